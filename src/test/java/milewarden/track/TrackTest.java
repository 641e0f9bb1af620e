package milewarden.track;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What no track can hold. */
final class TrackTest {
  private static Track at(double latitudeDeg, double longitudeDeg) {
    return new Track(
        "made",
        new double[] {52, latitudeDeg},
        new double[] {-31, longitudeDeg},
        new double[0],
        new long[] {0, 1000},
        new double[0],
        new double[0],
        new int[] {0},
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }

  @ParameterizedTest
  @CsvSource({"NaN, 0", "0, NaN", "90.0000001, 0", "-91, 0", "Infinity, 0", "0, -Infinity"})
  void aFixThatIsNowhereOnTheEarthNeverComesIn(double latitudeDeg, double longitudeDeg) {
    assertThatThrownBy(() -> at(latitudeDeg, longitudeDeg))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("fix 1");
  }

  @Test
  void thePolesAndTheAntimeridianAreOnTheEarth() {
    assertThat(at(90, 180).size()).isEqualTo(2);
    assertThat(at(-90, -180).size()).isEqualTo(2);
  }
}
