package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

final class OrderTest {
  @Test
  void ninetiethPercentileOfTheTwelveWafers() {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.2: R7 = 95.1957 (computed 95.19568).
    double[] wafers = {
      95.1772, 95.1567, 95.1937, 95.1959, 95.1442, 95.0610, 95.1591, 95.1195, 95.1065, 95.0925,
      95.1990, 95.1682
    };
    Arrays.sort(wafers);
    assertThat(Order.quantile(wafers, 0.9)).isCloseTo(95.19568, within(5e-6));
  }

  @Test
  void medianAbsoluteDeviationOfOneToNine() {
    // R 4.2.2, help of mad: mad(1:9) is 2.9652; mad(c(1:9, 100)) is 3.7065.
    assertThat(Order.robustSigma(new double[] {1, 2, 3, 4, 5, 6, 7, 8, 9}))
        .isCloseTo(2.9652, within(5e-5));
    assertThat(Order.robustSigma(new double[] {1, 2, 3, 4, 5, 6, 7, 8, 9, 100}))
        .isCloseTo(3.7065, within(5e-5));
  }

  @Test
  void sizesAboutAnyCentreAreTheJdksSortOfThem() {
    java.util.SplittableRandom random = new java.util.SplittableRandom(3);
    for (int n = 0; n < 200; n++) {
      double[] values = random.doubles(n % 9, -2, 2).map(v -> Math.rint(8 * v) / 8).toArray();
      if (values.length > 3) values[2] = Double.NaN;
      Arrays.sort(values);
      double centre = Math.rint(8 * random.nextDouble(-2.5, 2.5)) / 8;
      double[] sizes = Arrays.stream(values).map(v -> Math.abs(v - centre)).sorted().toArray();
      assertThat(Order.sizes(values, centre)).isEqualTo(sizes);
    }
  }

  @Test
  void twoInOrderAreMergedAsTheJdkSortsThem() {
    java.util.SplittableRandom random = new java.util.SplittableRandom(4);
    for (int n = 0; n < 300; n++) {
      double[] some = rounded(random, n % 7);
      double[] others = rounded(random, n % 11);
      if (others.length > 3) others[2] = Double.NaN;
      if (some.length > 5) some[4] = Double.NaN;
      double[] all = Arrays.copyOf(some, some.length + others.length);
      System.arraycopy(others, 0, all, some.length, others.length);
      assertThat(Order.merged(Order.sorted(some), Order.sorted(others)))
          .isEqualTo(Order.sorted(all));
    }
  }

  /** With ties, and without a negative 0. */
  private static double[] rounded(java.util.SplittableRandom random, int n) {
    return random.doubles(n, -2, 2).map(v -> Math.rint(8 * v) / 8 + 0.0).toArray();
  }
}
