package milewarden.statistics;

import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Intervals from resampled values: what is drawn again must be the piece of evidence, here always
 * whole sessions.
 *
 * @param low and {@code high}: the ends of a two-sided interval
 */
public record Bootstrap(double low, double high) {

  /**
   * The percentile interval.
   *
   * @param replicates the statistic of each resample, any order, not changed
   * @param level confidence, between 0 and 1
   * @see "Efron and Tibshirani (1993), An Introduction to the Bootstrap, 13.3"
   */
  public static Bootstrap percentile(double[] replicates, double level) {
    return between(replicates, (1 - level) / 2, (1 + level) / 2);
  }

  /**
   * The percentile interval widened for few values: a resample's spread is too small by (n-1)/n,
   * and its quantiles are the normal's where t's are needed.
   *
   * @param n values in the smallest sample that is resampled, 2 or more
   * @see "Hesterberg (2015), The American Statistician 69, 371-386: the expanded percentile"
   */
  public static Bootstrap expandedPercentile(double[] replicates, int n, double level) {
    double t = Distributions.tFactor(level, n - 1.0);
    double tail = Distributions.normalCdf(-Math.sqrt(n / (n - 1.0)) * t);
    return between(replicates, tail, 1 - tail);
  }

  /**
   * The bias-corrected and accelerated interval. Replicates equal to the seen value count half.
   *
   * @param seen the statistic of the values themselves
   * @param acceleration see {@link #acceleration}
   * @see "Efron (1987), J. American Statistical Association 82, 171-185"
   */
  public static Bootstrap bca(double[] replicates, double seen, double acceleration, double level) {
    double z0 = bias(replicates, seen);
    double half = Distributions.normalQuantile((1 + level) / 2);
    return between(replicates, shifted(z0, -half, acceleration), shifted(z0, half, acceleration));
  }

  /** The bias correction z0 of {@link #bca}. */
  static double bias(double[] replicates, double seen) {
    // Sums of the same numbers in another order round apart; they are the same value.
    double tie = 1e-12 * Math.max(1, Math.abs(seen));
    double below = 0;
    for (double r : replicates)
      if (r < seen - tie) below++;
      else if (r <= seen + tie) below += 0.5;
    return Distributions.normalQuantile(below / replicates.length);
  }

  private static double shifted(double z0, double z, double a) {
    return Distributions.normalCdf(z0 + (z0 + z) / (1 - a * (z0 + z)));
  }

  /**
   * The acceleration of a statistic of one or more independent samples.
   *
   * @param leftOut for each sample the statistic with each of its values left out in turn
   */
  public static double acceleration(double[]... leftOut) {
    double cubes = 0;
    double squares = 0;
    for (double[] sample : leftOut) {
      int n = sample.length;
      double mean = Sample.of(sample).mean();
      for (double x : sample) {
        double u = (n - 1) * (mean - x) / n;
        cubes += u * u * u;
        squares += u * u;
      }
    }
    return squares == 0 ? 0 : cubes / (6 * Math.pow(squares, 1.5));
  }

  private static Bootstrap between(double[] replicates, double from, double to) {
    double[] sorted = replicates.clone();
    Arrays.sort(sorted);
    return new Bootstrap(quantile(sorted, from), quantile(sorted, to));
  }

  // Linear between order statistics, Hyndman and Fan (1996) type 7, on values sorted once.
  private static double quantile(double[] sorted, double p) {
    double at = p * (sorted.length - 1);
    int below = (int) Math.min(sorted.length - 1.0, Math.floor(at));
    int above = Math.min(sorted.length - 1, below + 1);
    return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
  }

  /**
   * How often each of n values is drawn in each resample: one row per resample, the same for the
   * same seed.
   */
  public static int[][] draws(int n, int resamples, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    int[][] counts = new int[resamples][n];
    for (int[] row : counts) for (int i = 0; i < n; i++) row[random.nextInt(n)]++;
    return counts;
  }
}
