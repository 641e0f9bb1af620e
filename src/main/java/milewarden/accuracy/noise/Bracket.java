package milewarden.accuracy.noise;

import java.util.OptionalDouble;
import milewarden.statistics.Order;

/**
 * A 95 % interval of a quantile, metres; an end is empty where so few independent values leave it
 * open.
 */
public record Bracket(OptionalDouble lowM, OptionalDouble highM) {
  /**
   * Between two order statistics whose ranks lie that many standard errors of the share from it:
   * free of any distribution.
   *
   * @param sorted ascending
   * @param p the share below the quantile
   * @param independent how many independent values they are worth
   * @param z standard errors
   * @see "David and Nagaraja (2003), Order Statistics, 7.1; from memory"
   */
  static Bracket of(double[] sorted, double p, double independent, double z) {
    double error = z * Math.sqrt(p * (1 - p) / independent);
    return new Bracket(at(sorted, p - error), at(sorted, p + error));
  }

  private static OptionalDouble at(double[] sorted, double p) {
    return p < 0 || p > 1 ? OptionalDouble.empty() : OptionalDouble.of(Order.quantile(sorted, p));
  }
}
