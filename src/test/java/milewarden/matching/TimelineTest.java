package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.OptionalDouble;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

final class TimelineTest {
  private static final long NONE = Track.NO_TIME;

  private static Timeline of(long... seconds) {
    long[] ms = new long[seconds.length];
    for (int i = 0; i < ms.length; i++) ms[i] = seconds[i] == NONE ? NONE : seconds[i] * 1000;
    double[] place = new double[ms.length];
    return Timeline.of(
        new Track(
            "made",
            place,
            place,
            new double[0],
            ms,
            new double[0],
            new double[0],
            new int[] {0},
            DeviceClaim.NONE,
            OptionalDouble.empty()));
  }

  @Test
  void oneTimeThatRunsAheadIsSetAsideAlone() {
    Timeline t = of(0, 1, 9999, 3, 4);
    assertThat(t.backwards()).isEqualTo(1);
    assertThat(t.second(2)).isEqualTo(2);
    assertThat(t.second(4)).isEqualTo(4);
  }

  @Test
  void aClockThatWasSetBackGoesOnFromWhereItWas() {
    Timeline t = of(100, 101, 102, 40, 41, 42);
    assertThat(t.clockSteps()).isEqualTo(1);
    for (int i = 1; i < 6; i++) assertThat(t.second(i) - t.second(i - 1)).isEqualTo(1);
  }

  @Test
  void missingTimesAreFilledInBetweenTheirNeighbours() {
    Timeline t = of(NONE, 10, NONE, NONE, 16, 18);
    assertThat(t.timed()).isTrue();
    assertThat(t.filled()).isEqualTo(3);
    assertThat(t.second(2)).isEqualTo(2);
    assertThat(t.second(3)).isEqualTo(4);
    assertThat(t.second(0)).isEqualTo(0);
    assertThat(t.instant(t.second(4)).toEpochMilli()).isEqualTo(16_000);
  }

  @Test
  void withFewerThanHalfOfTheTimesThereIsNoSpeed() {
    assertThat(of(1, NONE, NONE, NONE, 5).timed()).isFalse();
  }

  @Test
  void equalTimesAreCounted() {
    Timeline t = of(0, 1, 1, 2, 3);
    assertThat(t.duplicates()).isEqualTo(1);
    assertThat(t.medianIntervalS()).isEqualTo(1);
  }
}
