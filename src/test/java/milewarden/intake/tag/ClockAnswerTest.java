package milewarden.intake.tag;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.LocalDateTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

final class ClockAnswerTest {
  // ISO 8601 durations: a day is 24 hours.
  @ParameterizedTest
  @CsvSource({
    "-02:00, -PT2H, -02:00",
    "+12 days, P12D, +12 days",
    "+12 day, P12D, +12 days",
    "-3 days 01:20, -P3DT1H20M, -3 days 01:20",
    "+1 day, P1D, +24:00",
    "+0 days 00:10, PT10M, +0 days 00:10",
    "+7168 days, P7168D, +1024 weeks",
    "+1024 weeks, P7168D, +1024 weeks",
  })
  void aShiftIsReadAndWrittenBack(String said, Duration by, String code) {
    ClockAnswer answer = ClockAnswer.of(said).orElseThrow();
    assertThat(answer.kind()).isEqualTo(ClockAnswer.Kind.MOVED);
    assertThat(answer.by()).isEqualTo(by);
    assertThat(answer.code()).isEqualTo(code);
    assertThat(ClockAnswer.of(answer.code())).contains(answer);
  }

  @Test
  void whenItBeganIsReadAndWrittenBack() {
    ClockAnswer answer = ClockAnswer.of("Began 2026-05-12 07:05").orElseThrow();
    assertThat(answer.began()).contains(LocalDateTime.of(2026, 5, 12, 7, 5));
    assertThat(ClockAnswer.of(answer.code())).contains(answer);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "12 days",
        "+0 days",
        "+12 days 1",
        "+1 days 01:75",
        "+1 days 24:00",
        "+01:20",
        "+27:00",
        "+1000 weeks",
        "began 2026-02-30 07:05",
        "began yesterday",
        "began 2026-05-12"
      })
  void whatIsNoAnswerIsNotUnderstood(String said) {
    assertThat(ClockAnswer.of(said)).isEmpty();
  }
}
