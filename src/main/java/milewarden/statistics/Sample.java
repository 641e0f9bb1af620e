package milewarden.statistics;

import java.util.Arrays;

/**
 * A set of numbers and its first moments, safe against cancellation.
 *
 * @param n count
 * @param mean NaN where empty
 * @param sumOfSquares of the deviations from the mean
 */
public record Sample(int n, double mean, double sumOfSquares) {

  /** Two passes, the second corrected for the rounding of the mean (Chan, Golub, LeVeque 1983). */
  public static Sample of(double... x) {
    int n = x.length;
    if (n == 0) return new Sample(0, Double.NaN, 0);
    // Deviations from the first value keep the digits of a large common offset.
    double first = x[0];
    double sum = 0;
    for (double v : x) sum += v - first;
    double mean = first + sum / n;
    double drift = 0;
    double squares = 0;
    for (double v : x) {
      double d = v - mean;
      drift += d;
      squares += d * d;
    }
    return new Sample(n, mean + drift / n, Math.max(0, squares - drift * drift / n));
  }

  /** With n - 1; NaN below two values. */
  public double variance() {
    return n < 2 ? Double.NaN : sumOfSquares / (n - 1);
  }

  /** With n - 1; NaN below two values. */
  public double sd() {
    return Math.sqrt(variance());
  }

  /**
   * The value below which a share {@code p} lies, linear between order statistics.
   *
   * @param x any order, not changed; not empty
   * @param p from 0 to 1
   * @see "Hyndman and Fan (1996), The American Statistician 50, 361-365, type 7"
   */
  public static double quantile(double[] x, double p) {
    if (x.length == 0) throw new IllegalArgumentException("quantile of nothing");
    if (!(p >= 0 && p <= 1)) throw new IllegalArgumentException("p: " + p);
    double[] sorted = x.clone();
    Arrays.sort(sorted);
    double at = p * (sorted.length - 1);
    int below = (int) Math.floor(at);
    if (below >= sorted.length - 1) return sorted[sorted.length - 1];
    return sorted[below] + (at - below) * (sorted[below + 1] - sorted[below]);
  }

  /** The middle value, or the mean of the middle two; x not empty. */
  public static double median(double[] x) {
    return quantile(x, 0.5);
  }
}
