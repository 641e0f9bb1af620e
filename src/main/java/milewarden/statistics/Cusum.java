package milewarden.statistics;

import java.util.ArrayList;
import java.util.List;
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

  private static double normalScore(double t, double df) {
    // By the lower tail on either side: its probability keeps its digits.
    double z = Distributions.normalQuantile(Distributions.tCdf(-Math.abs(t), df));
    return t > 0 ? -z : z;
  }
}
