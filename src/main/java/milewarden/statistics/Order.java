package milewarden.statistics;

import java.util.Arrays;

/** Order statistics of plain numbers. */
public final class Order {
  // Makes the median absolute deviation of a normal its standard deviation: 1 / Phi^-1(3/4).
  public static final double MAD_TO_SIGMA = 1.4826022185056018;

  private Order() {}

  /**
   * Linear between order statistics: type 7 of Hyndman and Fan (1996), Sample quantiles in
   * statistical packages, The American Statistician 50, 361-365.
   *
   * @param sorted ascending, not empty
   * @param p 0 to 1
   */
  public static double quantile(double[] sorted, double p) {
    double h = (sorted.length - 1) * p;
    int i = (int) h;
    if (i + 1 >= sorted.length) return sorted[sorted.length - 1];
    return sorted[i] + (h - i) * (sorted[i + 1] - sorted[i]);
  }

  /** Median absolute deviation from the median, scaled to a normal's sigma; of 1 value 0. */
  public static double robustSigma(double[] values) {
    return robustSigmaOfSorted(sorted(values));
  }

  /** The values ascending, in an array of their own. */
  public static double[] sorted(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted;
  }

  /** The values of both, ascending, NaN last; each is so already. 0 and -0 are alike. */
  public static double[] merged(double[] some, double[] others) {
    double[] out = new double[some.length + others.length];
    int s = 0;
    int o = 0;
    for (int k = 0; k < out.length; k++) {
      boolean first =
          o == others.length
              || s < some.length && (some[s] <= others[o] || Double.isNaN(others[o]));
      out[k] = first ? some[s++] : others[o++];
    }
    return out;
  }

  /**
   * As {@link #robustSigma}.
   *
   * @param sorted ascending, not empty
   */
  public static double robustSigmaOfSorted(double[] sorted) {
    return MAD_TO_SIGMA * quantile(sizes(sorted, quantile(sorted, 0.5)), 0.5);
  }

  /**
   * How far off a centre each value lies, ascending: what lies below and what lies above it are in
   * order already, and are merged.
   *
   * @param sorted ascending
   */
  public static double[] sizes(double[] sorted, double centre) {
    int above = 0;
    while (above < sorted.length && sorted[above] < centre) above++;
    int below = above - 1;
    double[] out = new double[sorted.length];
    for (int k = 0; k < out.length; k++) {
      boolean low =
          above == sorted.length
              || below >= 0 && !(sorted[above] - centre < centre - sorted[below]);
      out[k] = Math.abs(sorted[low ? below-- : above++] - centre);
    }
    return out;
  }
}
