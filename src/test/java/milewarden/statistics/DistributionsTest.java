package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.apache.commons.statistics.distribution.TDistribution;
import org.junit.jupiter.api.Test;

final class DistributionsTest {
  @Test
  void factorsBetweenWholeDegreesOfFreedomAreThoseOfTheLibrarysInverse() {
    SplittableRandom random = new SplittableRandom(7);
    double[] levels = {0.5, 0.9, 0.95, 0.97, 0.986, 0.995, 0.997, 0.99999};
    for (int i = 0; i < 4_000; i++) {
      double level = levels[i % levels.length];
      // From 1 to a million, as many in each octave.
      double df = Math.pow(2, 20 * random.nextDouble());
      double library = -TDistribution.of(df).inverseCumulativeProbability((1 - level) / 2);
      // The library's inverse is found to 1e-9 of its argument.
      assertThat(Distributions.tFactor(level, df))
          .as(level + " at " + df)
          .isCloseTo(library, within(2e-9 * library));
    }
  }

  @Test
  void theFactorLeavesJustTheShareOutside() {
    for (double df : new double[] {3.1, 7.25, 11.8, 199.5, 200.5, 3456.7})
      for (double level : new double[] {0.9, 0.95, 0.997}) {
        double p = Distributions.tTwoSidedP(Distributions.tFactor(level, df), df);
        assertThat(p).as(level + " at " + df).isCloseTo(1 - level, within(1e-13));
      }
  }

  @Test
  void theCheapBoundsHoldTheLibrarysInverse() {
    SplittableRandom random = new SplittableRandom(8);
    double[] levels = {0.5, 0.9, 0.95, 0.97, 0.997};
    for (int i = 0; i < 2_000; i++) {
      double level = levels[i % levels.length];
      // From a half to a million, whole ones among them.
      double df = Math.pow(2, 21 * random.nextDouble() - 1);
      if (i % 3 == 0) df = Math.ceil(df);
      double library = -TDistribution.of(df).inverseCumulativeProbability((1 - level) / 2);
      assertThat(Distributions.tFactorAtLeast(level, df)).isLessThan(library);
      assertThat(Distributions.tFactorAtMost(level, df)).isGreaterThan(library);
      if (df > 10)
        assertThat(Distributions.tFactorAtMost(level, df))
            .isCloseTo(Distributions.tFactorAtLeast(level, df), within(0.05 * library));
    }
    double normal = Distributions.normalQuantile(0.975);
    assertThat(Distributions.tFactorAtLeast(0.95, Double.POSITIVE_INFINITY)).isLessThan(normal);
    assertThat(Distributions.tFactorAtMost(0.95, Double.POSITIVE_INFINITY)).isGreaterThan(normal);
  }
}
