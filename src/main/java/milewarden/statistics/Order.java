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
    double[] v = values.clone();
    Arrays.sort(v);
    double median = quantile(v, 0.5);
    for (int i = 0; i < v.length; i++) v[i] = Math.abs(v[i] - median);
    Arrays.sort(v);
    return MAD_TO_SIGMA * quantile(v, 0.5);
  }
}
