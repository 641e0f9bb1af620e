package milewarden.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

final class ThrottleTest {
  private static final Instant START = Instant.parse("2026-05-12T07:00:00Z");
  private final Throttle throttle = new Throttle(3, Duration.ofSeconds(10));

  private static Instant after(int seconds) {
    return START.plusSeconds(seconds);
  }

  @Test
  void afterTheTriesItSaysHowLongToWaitAndThenLetsOneThrough() {
    for (int i = 0; i < 3; i++) assertThat(throttle.take("a", START)).isEmpty();
    assertThat(throttle.take("a", START)).contains(Duration.ofSeconds(10));
    assertThat(throttle.take("a", after(4))).contains(Duration.ofSeconds(6));
    assertThat(throttle.take("a", after(10))).isEmpty();
    assertThat(throttle.take("a", after(10))).isPresent();
  }

  @Test
  void oneKeySaysNothingOfAnother() {
    for (int i = 0; i < 4; i++) throttle.take("a", START);
    assertThat(throttle.take("b", START)).isEmpty();
    throttle.clear("a");
    assertThat(throttle.take("a", START)).isEmpty();
  }

  @Test
  void itNeverHoldsMoreThanItsTriesAndAClockThatIsSetBackGivesNone() {
    for (int i = 0; i < 3; i++) throttle.take("a", after(100_000));
    assertThat(throttle.take("a", after(50_000))).isPresent();
    int taken = 0;
    while (throttle.take("a", after(900_000)).isEmpty()) taken++;
    assertThat(taken).isEqualTo(3);
  }

  @Test
  void whoeverSendsAMillionNamesDoesNotGetTheirOwnForgotten() {
    for (int i = 0; i < 3; i++) throttle.take("guessed", START);
    for (int i = 0; i < 12_000; i++) throttle.take("k" + i, START);
    assertThat(throttle.take("guessed", START)).isPresent();
  }
}
