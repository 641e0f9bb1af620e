package milewarden.recipient;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Hours against the change days of the IANA time zone database: Europe/Vienna goes from +1 to +2 on
 * 2026-03-29 at 01:00 UTC and back on 2026-10-25 at 01:00 UTC (Directive 2000/84/EC, articles 2 and
 * 3); Australia/Lord_Howe moves by half an hour.
 */
final class RecipientTest {
  private static final ZoneId VIENNA = ZoneId.of("Europe/Vienna");

  private static Instant at(String instant) {
    return Instant.parse(instant);
  }

  private static LocalDate day(String day) {
    return LocalDate.parse(day);
  }

  @Test
  void sevenInTheMorningIsAtSixOrFiveOfUtcOnTheChangeDays() {
    DailyTime seven = new DailyTime(LocalTime.of(7, 0), VIENNA);
    assertThat(seven.on(day("2026-03-28"))).isEqualTo(at("2026-03-28T06:00:00Z"));
    assertThat(seven.on(day("2026-03-29"))).isEqualTo(at("2026-03-29T05:00:00Z"));
    assertThat(seven.on(day("2026-10-24"))).isEqualTo(at("2026-10-24T05:00:00Z"));
    assertThat(seven.on(day("2026-10-25"))).isEqualTo(at("2026-10-25T06:00:00Z"));
  }

  @Test
  void aTimeThatTheClockSkipsComesLaterAndATimeThatItShowsTwiceComesAtTheFirst() {
    DailyTime half = new DailyTime(LocalTime.of(2, 30), VIENNA);
    assertThat(half.on(day("2026-03-29"))).isEqualTo(at("2026-03-29T01:30:00Z"));
    assertThat(half.on(day("2026-10-25"))).isEqualTo(at("2026-10-25T00:30:00Z"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"Europe/Vienna", "America/St_Johns", "Australia/Lord_Howe", "UTC", "Asia/Tokyo"})
  void eachLocalDateIsServedOnceThroughAYearWhateverTheTimeOfDay(String name) {
    ZoneId zone = ZoneId.of(name);
    for (int minute : new int[] {0, 30, 90, 119, 120, 150, 179, 180, 420, 1439}) {
      DailyTime time = new DailyTime(LocalTime.ofSecondOfDay(60L * minute), zone);
      List<LocalDate> served = new ArrayList<>();
      LocalDate last = time.latest(at("2026-01-01T12:00:00Z"));
      for (Instant now = at("2026-01-01T12:00:00Z");
          now.isBefore(at("2027-01-01T12:00:00Z"));
          now = now.plus(Duration.ofMinutes(10))) {
        if (!time.isDue(last, now)) continue;
        last = time.latest(now);
        served.add(last);
      }
      assertThat(served).as(time.toString()).hasSize(365).doesNotHaveDuplicates().isSorted();
    }
  }

  @Test
  void aClockThatWasSetBackServesNoDateTwiceAndOneThatWasAYearAheadDoesNotSilenceTheYear() {
    DailyTime seven = new DailyTime(LocalTime.of(7, 0), ZoneOffset.UTC);
    LocalDate served = seven.latest(at("2026-05-12T07:00:10Z"));
    assertThat(seven.isDue(served, at("2026-05-12T06:30:00Z"))).isFalse();
    assertThat(seven.isDue(served, at("2026-05-11T07:00:00Z"))).isFalse();
    assertThat(seven.isDue(served, at("2026-05-12T07:00:00Z"))).isFalse();
    assertThat(seven.isDue(served, at("2026-05-13T07:00:00Z"))).isTrue();
    assertThat(seven.isDue(day("2027-05-12"), at("2026-05-12T08:00:00Z"))).isTrue();
  }

  @Test
  void quietHoursOverMidnightEndInTheMorningAlsoOnTheChangeDays() {
    QuietHours night = new QuietHours(LocalTime.of(22, 0), LocalTime.of(7, 0), VIENNA);
    assertThat(night.until(at("2026-03-28T20:59:59Z"))).isEmpty();
    assertThat(night.until(at("2026-03-28T21:00:00Z"))).hasValue(at("2026-03-29T05:00:00Z"));
    assertThat(night.until(at("2026-03-29T04:59:59Z"))).hasValue(at("2026-03-29T05:00:00Z"));
    assertThat(night.until(at("2026-03-29T05:00:00Z"))).isEmpty();
    assertThat(night.until(at("2026-10-25T05:30:00Z"))).hasValue(at("2026-10-25T06:00:00Z"));
    assertThat(night.until(at("2026-10-25T06:00:00Z"))).isEmpty();
  }

  @Test
  void quietHoursWithinADay() {
    QuietHours noon = new QuietHours(LocalTime.of(12, 0), LocalTime.of(13, 0), ZoneOffset.UTC);
    assertThat(noon.until(at("2026-05-12T11:59:00Z"))).isEmpty();
    assertThat(noon.until(at("2026-05-12T12:59:00Z"))).hasValue(at("2026-05-12T13:00:00Z"));
    assertThat(noon.until(at("2026-05-12T13:00:00Z"))).isEmpty();
    assertThatThrownBy(() -> new QuietHours(LocalTime.NOON, LocalTime.NOON, ZoneOffset.UTC))
        .isInstanceOf(IllegalArgumentException.class);
  }

  // RFC 5322, section 3.4.1, its plain part; what it allows beyond that is not taken.
  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "tester",
        "a@b@c.example",
        "a b@c.example",
        "a@c.example\r\nBcc: all@c.example",
        "a\r\n@c.example",
        "a@c.example,b@c.example",
        "\"a\"@c.example",
        "Anna <a@c.example>",
        "a@c.exam\u00ADple",
        "a(comment)@c.example",
        "a@-c.example"
      })
  void whatCouldBringMoreIntoAHeaderThanOneMailboxIsNoAddress(String text) {
    assertThat(Recipient.isAddress(text)).isFalse();
    assertThatThrownBy(() -> Recipient.ofEverything(text, VIENNA))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void whoChoseForThemselvesIsNotToldByTheConfigurationToo() {
    Recipient own = Recipient.ofEverything("Anna@c.example", VIENNA);
    Audience audience =
        new Audience(List.of("anna@C.example", "ben@c.example"), ZoneOffset.UTC, false);
    assertThat(audience.with(List.of(own)))
        .extracting(Recipient::address)
        .containsExactly("Anna@c.example", "ben@c.example");
    assertThat(own.quietFor(List.of())).isEqualTo(Optional.empty());
  }
}
