package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.util.Optional;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Issue.Kind;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** One file for each quirk that testers' files have; expectations are what stands in the file. */
final class QuirksTest {
  private static TrackRead read(String name) throws IOException {
    try (InputStream in = QuirksTest.class.getResourceAsStream("/quirks/" + name)) {
      byte[] bytes = Optional.ofNullable(in).orElseThrow().readAllBytes();
      return TrackFormats.read(new ByteArrayInputStream(bytes));
    }
  }

  private static TrackRead.Usable usable(String name) throws IOException {
    TrackRead.Usable read =
        read(name)
            .fold(
                u -> u,
                r -> {
                  throw new AssertionError("refused: " + r.why());
                });
    Drops d = read.drops();
    assertThat(d.kept() + d.dropped()).isEqualTo(d.seen());
    return read;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "byte-order-mark.gpx",
        "utf-16.gpx",
        "declared-utf-8-but-latin-1.gpx",
        "declared-utf-16-but-utf-8.gpx",
        "undeclared-prefix.gpx",
        "line-before-declaration.gpx",
        "control-sign.gpx",
        "same-recording.gpx",
        "same-recording.tcx",
        "same-recording.csv",
        "no-zone.gpx",
        "offset.gpx",
        "empty-segments.gpx",
        "odd-version.gpx",
        "decimal-comma.csv",
        "mixed-units.csv"
      })
  void whateverTheDressTheFixesAreTheSame(String name) throws IOException {
    Track t = usable(name).track();
    assertThat(t.latitudesDeg()).containsExactly(52.5, 52.50001, 52.50002);
    assertThat(t.longitudesDeg()).containsExactly(13.25, 13.25001, 13.25002);
    assertThat(t.startedAt()).contains(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(t.endedAt()).contains(Instant.parse("2026-05-12T07:00:02Z"));
  }

  @ParameterizedTest
  @CsvSource({
    "declared-utf-8-but-latin-1.gpx, MARKUP_MENDED, 1, 3",
    "undeclared-prefix.gpx, MARKUP_MENDED, 1, 3",
    "control-sign.gpx, MARKUP_MENDED, 1, 3",
    "time-goes-back.gpx, TIME_GOES_BACK, 1, 3",
    "all-times-equal.gpx, TIME_REPEATED, 2, 3",
    "date-of-1901.gpx, TIME_IMPLAUSIBLE, 2, 2",
    "date-of-1989.gpx, TIME_IMPLAUSIBLE, 2, 2",
    "zero-zero.gpx, POSITION_SENTINEL, 1, 1",
    "180-180.gpx, POSITION_SENTINEL, 1, 1",
    "latitude-above-90.gpx, POSITION_OUT_OF_RANGE, 1, 1",
    "not-a-number.gpx, POSITION_NOT_A_NUMBER, 1, 1",
    "not-a-number.gpx, HEIGHT_UNREADABLE, 1, 1",
    "no-zone.gpx, TIME_WITHOUT_ZONE, 3, 3",
    "no-time-at-its-ends.gpx, TIME_MISSING, 2, 3",
    "cut-off.gpx, TRUNCATED, 1, 2",
    "odd-version.gpx, ODD_VERSION, 1, 3",
    "exact-duplicates.gpx, EXACT_DUPLICATE, 1, 2",
    "mixed-units.csv, COLUMN_DOUBTFUL, 2, 3",
  })
  void theQuirkIsCountedByItsNameAndTheRestKept(String name, Kind kind, int count, int kept)
      throws IOException {
    TrackRead.Usable read = usable(name);
    assertThat(read.drops().count(kind)).isEqualTo(count);
    assertThat(read.track().size()).isEqualTo(kept);
  }

  @Test
  void aPrefixThatNobodyDeclaredHidesNoValue() throws IOException {
    assertThat(usable("undeclared-prefix.gpx").track().cadencesPerMin()[0]).isEqualTo(83);
  }

  @Test
  void exponentsAndManyDecimalsAreNumbers() throws IOException {
    assertThat(usable("exponents.gpx").track().latitudesDeg()).containsOnly(52.5);
    assertThat(usable("exponents.gpx").track().longitudesDeg()).containsOnly(13.25);
    // 26 decimals: the nearest double is the plain number itself.
    assertThat(usable("26-decimals.gpx").track().latitudesDeg()).containsOnly(52.5);
  }

  @Test
  void fiveDecimalsAreKeptAsWritten() throws IOException {
    Track t = usable("5-decimals.gpx").track();
    for (double lat : t.latitudesDeg()) assertThat(lat).isEqualTo(Math.rint(lat * 1e5) / 1e5);
  }

  @ParameterizedTest
  @CsvSource({
    "empty-track.gpx, no track points",
    "waypoints-only.gpx, '2 waypoints and 0 route points, but no track points'"
  })
  void aFileWithoutAFixIsRefusedWithWhatItHolds(String name, String detail) throws IOException {
    Issue why =
        read(name)
            .fold(
                u -> {
                  throw new AssertionError("read: " + u.drops());
                },
                r -> r.why());
    assertThat(why.kind()).isEqualTo(Kind.NO_FIXES);
    assertThat(why.detail()).isEqualTo(detail);
  }

  @Test
  void longPausesAndFarPlacesAreKeptForTheEngineToTellOf() throws IOException {
    assertThat(usable("pause-of-27-days.gpx").track().size()).isEqualTo(4);
    assertThat(usable("two-outings-8000-km-apart.gpx").track().size()).isEqualTo(4);
  }

  @Test
  void aTimeOnALineOfItsOwnIsRead() throws IOException {
    assertThat(usable("time-across-lines.gpx").track().startedAt())
        .contains(Instant.parse("2026-05-12T07:00:00Z"));
  }

  @Test
  void segmentsWithoutAFixAreNone() throws IOException {
    assertThat(usable("empty-segments.gpx").track().segments()).isEqualTo(2);
  }

  @Test
  void fractionsAreKeptAndALeapSecondIsTheLastOfItsDay() throws IOException {
    // 1,483,228,800 s after 1970 is 2017-01-01T00:00:00Z: GNU date 9.1.
    assertThat(usable("fractions-and-a-leap-second.gpx").track().timesMs())
        // 23:59:60 has no number of its own in POSIX time: it counts as the second before.
        .containsExactly(1_483_228_799_750L, 1_483_228_799_000L, 1_483_228_800_500L);
    assertThat(usable("fractions-and-a-leap-second.gpx").drops().count(Kind.TIME_GOES_BACK))
        .isEqualTo(1);
  }

  @Test
  void aTimeThatIsMissingAtTheEndsIsNotInvented() throws IOException {
    Track t = usable("no-time-at-its-ends.gpx").track();
    assertThat(t.hasTime(0)).isFalse();
    assertThat(t.hasTime(1)).isTrue();
    assertThat(t.hasTime(2)).isFalse();
  }

  @Test
  void aWeekThatRolledOverIsLeftAsItStands() throws IOException {
    // 1,024 weeks, 7,168 days, before 2026-05-12.
    assertThat(usable("week-rollover.nmea").track().startedAt())
        .contains(Instant.parse("2006-09-26T07:00:00Z"));
  }

  @Test
  void aDecimalCommaIsOneInADistanceToo() throws IOException {
    assertThat(usable("decimal-comma.csv").track().distancesM()).containsExactly(0, 1, 2);
    assertThat(usable("mixed-units.csv").track().distancesM()).isEmpty();
  }
}
