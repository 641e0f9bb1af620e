package milewarden.geodesy;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The oracle is GeographicLib, behind Geodesics. */
final class LocalMetricTest {
  private static double fast(Position a, Position b) {
    return LocalMetric.lengthM(
        a.latitudeDeg(), a.longitudeDeg(), b.latitudeDeg(), b.longitudeDeg());
  }

  private static double exact(Position a, Position b) {
    return Geodesics.lengthM(a.latitudeDeg(), a.longitudeDeg(), b.latitudeDeg(), b.longitudeDeg());
  }

  @Test
  void stepsUpToAKilometreAreWithinAMillimetrePerKilometreFrom0To75Degrees() {
    long seed = 4711;
    Random random = new Random(seed);
    double worst = 0;
    for (int i = 0; i < 50_000; i++) {
      double lat = (random.nextDouble() * 2 - 1) * 75;
      double length = Math.pow(10, random.nextDouble() * 3);
      Position a = new Position(lat, random.nextDouble() * 360 - 180);
      Position b = Geodesics.direct(a, random.nextDouble() * 360, length);
      worst = Math.max(worst, Math.abs(fast(a, b) / exact(a, b) - 1));
    }
    assertThat(worst).as("seed " + seed).isLessThan(1e-6);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 15, 30, 45, 60, 75, -33})
  void aCourseOf50KilometresIsWithinAMillimetrePerKilometre(double latitude) {
    Position at = new Position(latitude, 179.9);
    double fast = 0;
    double exact = 0;
    for (int i = 0; i < 5000; i++) {
      Position next = Geodesics.direct(at, 63 + 40 * Math.sin(i / 300.0), 10);
      fast += fast(at, next);
      exact += exact(at, next);
      at = next;
    }
    assertThat(Math.abs(fast / exact - 1)).isLessThan(1e-6);
  }

  @Test
  void longerStepsAndThePolesAreTheLibrarysOwn() {
    double[][] steps = {
      {50, 10, 51, 11}, {89.9, 0, 89.9, 1}, {0, 0, 0, 179.5}, {-89.99, 5, -90, 5}
    };
    for (double[] s : steps)
      assertThat(LocalMetric.lengthM(s[0], s[1], s[2], s[3]))
          .isEqualTo(Geodesics.lengthM(s[0], s[1], s[2], s[3]));
  }

  @Test
  void aStepOverTheAntimeridianIsShort() {
    double over = LocalMetric.lengthM(10, 179.9999, 10, -179.9999);
    double same = LocalMetric.lengthM(10, 0, 10, 0.0002);
    assertThat(Math.abs(over - same)).isLessThan(1e-6);
  }
}
