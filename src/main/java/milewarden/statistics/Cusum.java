package milewarden.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Two-sided cumulative sums on standardised values.
 *
 * @param high S+ after each value, not negative
 * @param low S- after each value, not negative
 * @param signalAt index of the first value after which either exceeds the limit
 * @see "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3"
 */
public record Cusum(List<Double> high, List<Double> low, OptionalInt signalAt) {
  /**
   * With known parameters.
   *
   * @param z standardised values in order
   * @param slack k, half the shift to be found, in standard deviations
   * @param limit h
   */
  public static Cusum of(double[] z, double slack, double limit) {
    List<Double> high = new ArrayList<>();
    List<Double> low = new ArrayList<>();
    OptionalInt signal = OptionalInt.empty();
    double up = 0;
    double down = 0;
    for (int i = 0; i < z.length; i++) {
      up = Math.max(0, up + z[i] - slack);
      down = Math.max(0, down - z[i] - slack);
      high.add(up);
      low.add(down);
      if (signal.isEmpty() && (up > limit || down > limit)) signal = OptionalInt.of(i);
    }
    return new Cusum(List.copyOf(high), List.copyOf(low), signal);
  }

  /**
   * Standardises each value by those before it, so that no parameter need be known: exactly normal
   * and independent where the values are. The first two give 0.
   *
   * @see "Hawkins (1987), The Statistician 36, 299-315"
   */
  public static double[] selfStarting(double[] x) {
    double[] z = new double[x.length];
    double mean = 0;
    double squares = 0;
    for (int i = 0; i < x.length; i++) {
      if (i >= 2 && squares > 0) {
        double sd = Math.sqrt(squares / (i - 1));
        double t = Math.sqrt(i / (i + 1.0)) * (x[i] - mean) / sd;
        z[i] = normalScore(t, i - 1.0);
      }
      double d = x[i] - mean;
      mean += d / (i + 1);
      squares += d * (x[i] - mean);
    }
    return z;
  }

  /**
   * The same where each value has its share of several levels: recursive residuals, exactly normal
   * and independent, whatever the levels are. A value whose level the earlier ones do not tell
   * gives 0.
   *
   * @param columns one per level, each as long as x: the value's share of it
   * @see "Brown, Durbin and Evans (1975), J. Royal Statistical Society B 37, 149-192"
   */
  public static double[] selfStarting(double[] x, double[][] columns) {
    double[] z = new double[x.length];
    for (int i = 2; i < x.length; i++) {
      int last = i;
      deviation(x, columns, i, last)
          .filter(k -> k.standardError() > 0)
          .ifPresent(k -> z[last] = normalScore(k.t(), k.degreesOfFreedom()));
    }
    return z;
  }

  /**
   * Standardises the values from {@code known} on by the levels and the spread of those before it.
   *
   * @return 0 where the level of a value is not among them, and for the first values
   */
  public static double[] standardised(double[] x, double[][] columns, int known) {
    double[] first = Arrays.copyOf(x, known);
    double[][] levels = new double[columns.length][];
    for (int c = 0; c < levels.length; c++) levels[c] = Arrays.copyOf(columns[c], known);
    double squares = 0;
    for (double r : LeastSquares.residuals(first, levels)) squares += r * r;
    double sd = Math.sqrt(squares / (known - LeastSquares.rank(levels, known)));
    double[] z = new double[x.length];
    for (int i = known; i < x.length; i++) {
      int at = i;
      if (sd > 0) deviation(x, columns, known, i).ifPresent(k -> z[at] = k.estimate() / sd);
    }
    return z;
  }

  /** By how much value {@code at} lies off what the first {@code n} tell of its level. */
  private static Optional<Contrast> deviation(double[] x, double[][] columns, int n, int at) {
    double[] y = Arrays.copyOf(x, n + 1);
    y[n] = x[at];
    double[][] levels = new double[columns.length][];
    for (int c = 0; c < levels.length; c++) {
      levels[c] = Arrays.copyOf(columns[c], n + 1);
      levels[c][n] = columns[c][at];
    }
    double[] alone = new double[n + 1];
    alone[n] = 1;
    return LeastSquares.coefficient(y, levels, alone);
  }

  private static double normalScore(double t, double df) {
    // By the lower tail on either side: its probability keeps its digits.
    double z = Distributions.normalQuantile(Distributions.tCdf(-Math.abs(t), df));
    return t > 0 ? -z : z;
  }
}
