package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Published values: see statistics/bootstrap/SOURCE.txt. */
final class BootstrapTest {
  private static final double[] SEVEN = {0.2, 0.5, -0.1, 0.9, 1.4, 0.3, 0.6};

  /** All 7^7 resamples: nothing is left to chance. Computed with exact fractions by other means. */
  @Test
  void everyResampleOfSevenValuesGivesTheExactIntervals() {
    double[] means = new double[823_543];
    for (int i = 0; i < means.length; i++) {
      double sum = 0;
      for (int k = 0, rest = i; k < 7; k++, rest /= 7) sum += SEVEN[rest % 7];
      means[i] = sum / 7;
    }
    double seen = Sample.of(SEVEN).mean();
    double a = Bootstrap.acceleration(leftOut(SEVEN));
    // 1e-9: seven roundings of numbers near 1; the values are printed to ten digits.
    assertThat(Sample.of(means).sd()).isCloseTo(0.1724459606, within(1e-6));
    assertThat(a).isCloseTo(0.0336471838, within(1e-9));
    assertThat(Bootstrap.bias(means, seen)).isCloseTo(0.0350571, within(1e-7));
    Bootstrap percentile = Bootstrap.percentile(means, 0.95);
    assertThat(percentile.low()).isCloseTo(0.2285714, within(1e-7));
    assertThat(percentile.high()).isCloseTo(0.9, within(1e-7));
    Bootstrap bca = Bootstrap.bca(means, seen, a, 0.95);
    assertThat(bca.low()).isCloseTo(0.2571429, within(1e-7));
    assertThat(bca.high()).isCloseTo(0.9285714, within(1e-7));
  }

  @Test
  void theMeanOfSixteenValuesAgreesWithRsBoot() {
    double[] x = Published.column("bootstrap/bootstrap_mean_16.csv", "x");
    int[][] draws = Bootstrap.draws(x.length, 100_000, 16);
    double[] means = new double[draws.length];
    for (int b = 0; b < draws.length; b++)
      for (int i = 0; i < x.length; i++) means[b] += draws[b][i] * x[i] / x.length;
    Bootstrap percentile = Bootstrap.percentile(means, 0.95);
    // Half a percent, as the library's own test allows: what resampling leaves to chance.
    assertThat(percentile.low()).isCloseTo(28.86, within(0.005 * 28.86));
    assertThat(percentile.high()).isCloseTo(84.21, within(0.005 * 84.21));
    double a = Bootstrap.acceleration(leftOut(x));
    Bootstrap bca = Bootstrap.bca(means, Sample.of(x).mean(), a, 0.95);
    assertThat(bca.low()).isCloseTo(32.31, within(0.005 * 32.31));
    assertThat(bca.high()).isCloseTo(91.43, within(0.005 * 91.43));
  }

  @Test
  void theAccelerationOfADifferenceOfMeansTakesBothSamples() {
    double[] treated = mice("treated");
    double[] control = mice("control");
    double[] first = leftOut(treated);
    for (int i = 0; i < first.length; i++) first[i] -= Sample.of(control).mean();
    double[] second = leftOut(control);
    for (int i = 0; i < second.length; i++) second[i] = Sample.of(treated).mean() - second[i];
    // 1e-15: some twenty roundings of numbers near 0.01.
    assertThat(Bootstrap.acceleration(first, second))
        .isCloseTo(0.011008228344026734, within(1e-15));
  }

  private static double[] mice(String group) {
    return Published.rows("bootstrap/bootstrap_mouse_survival.csv").stream()
        .filter(r -> group.equals(r.get("group")))
        .mapToDouble(r -> Published.number(r, "days"))
        .toArray();
  }

  private static double[] leftOut(double[] x) {
    double sum = Arrays.stream(x).sum();
    return Arrays.stream(x).map(v -> (sum - v) / (x.length - 1)).toArray();
  }

  /**
   * Of normal values the t interval covers 95 %. The plain percentile interval of six values covers
   * 87 %, the expanded one 93 %: the resamples of six values have lighter tails than the normal, so
   * two points are left.
   */
  @Test
  void theExpandedPercentileMakesGoodMostOfWhatThePlainOneLacks() {
    SplittableRandom random = new SplittableRandom(6);
    int[][] draws = Bootstrap.draws(6, 999, 999);
    int trials = 2_000;
    int plain = 0;
    int expanded = 0;
    for (int trial = 0; trial < trials; trial++) {
      double[] x = new double[6];
      for (int i = 0; i < 6; i++) x[i] = random.nextGaussian();
      double[] means = new double[draws.length];
      for (int b = 0; b < draws.length; b++)
        for (int i = 0; i < 6; i++) means[b] += draws[b][i] * x[i] / 6;
      if (holdsZero(Bootstrap.percentile(means, 0.95))) plain++;
      if (holdsZero(Bootstrap.expandedPercentile(means, 6, 0.95))) expanded++;
    }
    // Monte Carlo: one standard error of a share of 0.95 in 2,000 is 0.005.
    assertThat(plain / (double) trials).isLessThan(0.90);
    assertThat(expanded / (double) trials).isBetween(0.92, 0.96);
  }

  private static boolean holdsZero(Bootstrap b) {
    return b.low() <= 0 && b.high() >= 0;
  }

  @Test
  void theSameSeedDrawsTheSame() {
    assertThat(Bootstrap.draws(5, 20, 7)).isDeepEqualTo(Bootstrap.draws(5, 20, 7));
    for (int[] row : Bootstrap.draws(5, 20, 7)) assertThat(Arrays.stream(row).sum()).isEqualTo(5);
  }
}
