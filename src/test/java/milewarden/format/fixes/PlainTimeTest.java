package milewarden.format.fixes;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Random;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The oracle is java.time. */
final class PlainTimeTest {
  private static long parse(String text) {
    return PlainTime.parse(text.toCharArray(), 0, text.length());
  }

  private static long oracle(String text) {
    try {
      return OffsetDateTime.parse(text).toInstant().toEpochMilli();
    } catch (DateTimeException e) {
      try {
        return Instant.parse(text).toEpochMilli();
      } catch (DateTimeException f) {
        return Track.NO_TIME;
      }
    }
  }

  @Test
  void randomTimesWithFractionsAndOffsetsReadAsTheJdkReadsThem() {
    Random random = new Random(20261125);
    int times = 0;
    for (int i = 0; i < 60_000; i++) {
      // A little beyond every range: what the calendar refuses must be refused here too.
      StringBuilder b =
          new StringBuilder(
              String.format(
                  java.util.Locale.ROOT,
                  "%04d-%02d-%02dT%02d:%02d:%02d",
                  1 + random.nextInt(9999),
                  random.nextInt(14),
                  random.nextInt(33),
                  random.nextInt(25),
                  random.nextInt(61),
                  random.nextInt(61)));
      int decimals = random.nextInt(11);
      if (decimals > 0) b.append('.');
      for (int d = 0; d < decimals; d++) b.append(random.nextInt(10));
      if (random.nextInt(3) > 0) b.append('Z');
      else
        b.append(
            String.format(
                java.util.Locale.ROOT,
                "%s%02d:%02d",
                random.nextBoolean() ? "+" : "-",
                random.nextInt(20),
                random.nextInt(61)));
      long expected = oracle(b.toString());
      if (expected != Track.NO_TIME) times++;
      // An assertion object for each of so many would take longer than all the rest.
      if (parse(b.toString()) != expected)
        assertThat(parse(b.toString())).as(b + "").isEqualTo(expected);
    }
    assertThat(times).isGreaterThan(10_000);
  }

  @Test
  void everyDayOfFourCenturiesIsTheCalendars() {
    java.time.LocalDate day = java.time.LocalDate.of(1700, 1, 1);
    for (; day.getYear() < 2101; day = day.plusDays(1))
      assertThat(parse(day + "T12:34:56Z")).isEqualTo(day.toEpochDay() * 86_400_000 + 45_296_000);
  }

  @ParameterizedTest
  @CsvSource({
    "2026-05-12T07:00:00Z, 2026-05-12T07:00:00Z",
    "2026-05-12T07:00:00.5Z, 2026-05-12T07:00:00.500Z",
    "2026-05-12T09:00:00+02:00, 2026-05-12T07:00:00Z",
    "2026-05-12T07:00:00z, 2026-05-12T07:00:00Z",
    "'\n 2026-05-12T07:00:00Z \n', 2026-05-12T07:00:00Z",
    "'2026-05-12T\n07:00:00Z', 2026-05-12T07:00:00Z",
    "'2026-05-12 07:00:00Z', 2026-05-12T07:00:00Z",
    "'2026-05-12T07:00:00,25Z', 2026-05-12T07:00:00.250Z",
    "2016-12-31T23:59:60Z, 2016-12-31T23:59:59Z",
    "2026-05-12T07:00Z, 2026-05-12T07:00:00Z"
  })
  void formsThatWritersUseAreRead(String text, Instant expected) {
    assertThat(parse(text)).isEqualTo(expected.toEpochMilli());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "yesterday",
        "2026-05-12",
        "07:00:00Z",
        "2026-02-30T07:00:00Z",
        "2026-05-12T07:61:00Z",
        "20x6-05-12T07:00:00Z",
        "2026-05-12T07:00:00",
        "20260512T070000Z",
        "1778569200"
      })
  void whatNamesNoInstantIsNoTime(String text) {
    assertThat(parse(text)).isEqualTo(Track.NO_TIME);
  }

  @Test
  void aTimeWithoutAZoneIsReadAsUtcOnlyWhereThatIsAskedFor() {
    String text = "2026-05-12T07:00:00.25";
    assertThat(PlainTime.parseWithoutZone(text.toCharArray(), 0, text.length()))
        .isEqualTo(Instant.parse("2026-05-12T07:00:00.25Z").toEpochMilli());
  }
}
