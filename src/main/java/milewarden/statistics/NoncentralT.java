package milewarden.statistics;

import org.apache.commons.numbers.gamma.LogGamma;
import org.apache.commons.numbers.gamma.RegularizedBeta;

/**
 * The noncentral t distribution: what t follows when the true difference is {@code delta} standard
 * errors.
 *
 * @see "Lenth (1989), Algorithm AS 243, Applied Statistics 38, 185-189"
 */
public final class NoncentralT {
  // Terms are summed until what is left can't exceed this: more digits than power needs.
  private static final double PRECISION = 1e-14;
  private static final int MOST_TERMS = 20_000;
  // Beyond this the series takes thousands of terms, and the approximation is good to 1e-3.
  private static final double LARGEST_DELTA = 100;

  private NoncentralT() {}

  /**
   * P(T &lt;= t).
   *
   * @param df degrees of freedom, above 0
   * @param delta noncentrality; beyond 100 the normal approximation of Abramowitz and Stegun
   *     26.7.10 is given
   * @return between 0 and 1; error below 1e-11 within the series
   */
  public static double cdf(double t, double df, double delta) {
    if (t < 0) return 1 - upwards(-t, df, -delta);
    return upwards(t, df, delta);
  }

  private static double upwards(double t, double df, double delta) {
    if (df > 1e7) return Distributions.normalCdf(t - delta);
    if (Math.abs(delta) > LARGEST_DELTA) return approximate(t, df, delta);
    double sum = t == 0 ? 0 : series(t * t / (t * t + df), df, delta);
    return Math.min(1, Math.max(0, Distributions.normalCdf(-delta) + sum));
  }

  /**
   * Half of the sum over j of p_j I_x(j + 1/2, n/2) + q_j I_x(j + 1, n/2), Lenth's equation 1: p
   * and q are Poisson-like weights, I the incomplete beta ratio, each next one by recurrence.
   * Begins where the weights begin to count.
   */
  private static double series(double x, double df, double delta) {
    double half = delta * delta / 2;
    double b = df / 2;
    int j = (int) Math.max(0, half - 12 * Math.sqrt(half) - 20);
    double logHalf = half > 0 ? j * Math.log(half) : 0;
    double p = Math.exp(-half + logHalf - LogGamma.value(j + 1.0));
    double q = delta / Math.sqrt(2) * Math.exp(-half + logHalf - LogGamma.value(j + 1.5));
    double odd = RegularizedBeta.value(x, j + 0.5, b);
    double even = RegularizedBeta.value(x, j + 1.0, b);
    double oddStep = step(x, j + 0.5, b);
    double evenStep = step(x, j + 1.0, b);
    double sum = 0;
    double weightLeft = 1;
    for (int terms = 0; terms < MOST_TERMS; terms++, j++) {
      sum += (p * odd + q * even) / 2;
      weightLeft -= p;
      // The beta ratios fall with j, so what is left is bounded by the weights that are left.
      if (j > half && Math.abs(weightLeft) * odd < PRECISION) break;
      odd -= oddStep;
      even -= evenStep;
      oddStep *= x * (j + 0.5 + b) / (j + 1.5);
      evenStep *= x * (j + 1.0 + b) / (j + 2.0);
      p *= half / (j + 1.0);
      q *= half / (j + 1.5);
    }
    return sum;
  }

  /** I_x(a, b) - I_x(a + 1, b), Abramowitz and Stegun 26.5.16. */
  private static double step(double x, double a, double b) {
    double log =
        a * Math.log(x)
            + b * Math.log1p(-x)
            + LogGamma.value(a + b)
            - LogGamma.value(a + 1)
            - LogGamma.value(b);
    return Math.exp(log);
  }

  private static double approximate(double t, double df, double delta) {
    double z = (t * (1 - 1 / (4 * df)) - delta) / Math.sqrt(1 + t * t / (2 * df));
    return Distributions.normalCdf(z);
  }
}
