package milewarden.accuracy.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/** The Rice mean against values computed with SciPy: noise/SOURCE.txt. */
final class RiceTest {
  @Test
  void theMeanExcessIsThatOfTheReferenceCases() throws IOException {
    int rows = 0;
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                Objects.requireNonNull(getClass().getResourceAsStream("/noise/oed_rice_cases.csv")),
                StandardCharsets.US_ASCII))) {
      in.readLine();
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        String[] c = line.split(",");
        double d = Double.parseDouble(c[0]);
        double sigma = Double.parseDouble(c[1]);
        double rho = Double.parseDouble(c[2]);
        double s = sigma * Math.sqrt(2 * (1 - rho));
        // Half of the last printed digit.
        assertThat(Rice.excessM(d, s)).as(line).isCloseTo(Double.parseDouble(c[6]), within(6e-10));
        // Straight lines between table entries: 1e-3 of the excess, far below what sigma is known
        // to.
        assertThat(Rice.quickM(d, s))
            .as(line)
            .isCloseTo(Double.parseDouble(c[6]), within(1e-3 * Double.parseDouble(c[6])));
        rows++;
      }
    }
    assertThat(rows).isEqualTo(9);
  }

  @Test
  void aStandingFixWandersByTheRayleighMean() {
    // Closed form: s sqrt(pi / 2).
    assertThat(Rice.excessM(0, 3)).isCloseTo(3 * Math.sqrt(Math.PI / 2), within(1e-12));
  }

  @Test
  void noNoiseAddsNothing() {
    assertThat(Rice.excessM(5, 0)).isZero();
    assertThat(Rice.quickM(5, 0)).isZero();
  }

  @Test
  void smallNoiseAddsHalfItsVarianceOverTheStep() {
    // Closed form for s << d: s^2 / (2 d).
    assertThat(Rice.excessM(100, 0.5)).isCloseTo(0.25 / 200, within(1e-7));
  }

  @Test
  void theBesselFunctionsMeetWhereTheirSeriesChange() {
    for (double x : new double[] {0.1, 1, 5, 19.999999, 20.000001, 100}) {
      double i0 = Rice.scaledI0(x);
      double i1 = Rice.scaledI1(x);
      assertThat(i1).isLessThan(i0);
    }
    assertThat(Rice.scaledI0(20.000001)).isCloseTo(Rice.scaledI0(19.999999), within(1e-8));
    // Abramowitz and Stegun (1964), chapter 9; I0(1) and I1(1) from memory.
    assertThat(Rice.scaledI0(1)).isCloseTo(1.2660658777520084 / Math.E, within(1e-14));
    assertThat(Rice.scaledI1(1)).isCloseTo(0.5651591039924851 / Math.E, within(1e-14));
  }
}
