package milewarden.statistics;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.apache.commons.statistics.distribution.FDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * The distributions that the tests need. Degrees of freedom are above 0, not necessarily whole, and
 * may be infinite; values come from a general-purpose library, near the precision of a double.
 */
public final class Distributions {
  // Above this many degrees of freedom t and the normal agree to 1e-7, far below any use here.
  private static final double AS_NORMAL = 1e7;

  // A judgement asks for few levels and few whole degrees of freedom, over and over, and an inverse
  // costs 50 times what the test costs.
  private static final int MOST_KEPT = 200;
  private static final int MOST_LEVELS = 500;
  // Below, the factors bend too much between whole degrees of freedom.
  private static final double FEWEST_BETWEEN = 3;
  // Ten times what the library's inverse is found to.
  private static final double NEAR = 1e-8;
  private static final Map<Double, double[]> FACTORS = new ConcurrentHashMap<>();

  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private Distributions() {}

  /** P(Z &lt;= z). */
  public static double normalCdf(double z) {
    return NORMAL.cumulativeProbability(z);
  }

  /** The z below which a share {@code p} of the normal distribution lies; p between 0 and 1. */
  public static double normalQuantile(double p) {
    return NORMAL.inverseCumulativeProbability(p);
  }

  /** P(T &lt;= t) with {@code df} degrees of freedom. */
  public static double tCdf(double t, double df) {
    if (df > AS_NORMAL) return normalCdf(t);
    return TDistribution.of(df).cumulativeProbability(t);
  }

  /** P(|T| &gt;= |t|), the two-sided p; exact in the far tail. */
  public static double tTwoSidedP(double t, double df) {
    return 2 * tCdf(-Math.abs(t), df);
  }

  /** The t below which a share {@code p} lies; p between 0 and 1. */
  public static double tQuantile(double p, double df) {
    if (df > AS_NORMAL) return normalQuantile(p);
    return TDistribution.of(df).inverseCumulativeProbability(p);
  }

  /** The factor of a two-sided interval of confidence {@code level}: 0.95 gives 1.96 and above. */
  public static double tFactor(double level, double df) {
    double whole = Math.rint(df);
    // Sums of one term round their whole degrees of freedom by a last digit.
    if (whole >= 1 && whole <= MOST_KEPT && Math.abs(df - whole) < 1e-12 * whole)
      return ofWhole(level, (int) whole);
    if (df < FEWEST_BETWEEN || df > AS_NORMAL) return -tQuantile((1 - level) / 2, df);
    return between(level, df);
  }

  /** No more than {@link #tFactor}, and near it; cheap. */
  public static double tFactorAtLeast(double level, double df) {
    return df >= MOST_KEPT
        ? -normalQuantile((1 - level) / 2) * (1 - NEAR)
        : ofWhole(level, (int) Math.ceil(df)) * (1 - NEAR);
  }

  /** No less than {@link #tFactor}, and near it where there are some degrees of freedom; cheap. */
  public static double tFactorAtMost(double level, double df) {
    if (!(df >= 1)) return Double.POSITIVE_INFINITY;
    return ofWhole(level, (int) Math.min(MOST_KEPT, df)) * (1 + NEAR);
  }

  private static double ofWhole(double level, int df) {
    if (FACTORS.size() > MOST_LEVELS) FACTORS.clear();
    double[] factors = FACTORS.computeIfAbsent(level, k -> new double[MOST_KEPT + 1]);
    // Two that work it out at once write the same number.
    if (factors[df] == 0) factors[df] = -tQuantile((1 - level) / 2, df);
    return factors[df];
  }

  /**
   * From the factors of the whole degrees on either side, near to straight in 1 / df, by two steps
   * of Halley's method on the library's own distribution: a fraction of the time of its inverse.
   */
  private static double between(double level, double df) {
    double p = (1 - level) / 2;
    double share;
    double low;
    double high;
    if (df >= MOST_KEPT) {
      low = ofWhole(level, MOST_KEPT);
      high = -normalQuantile(p);
      share = MOST_KEPT / df;
    } else {
      int below = (int) df;
      low = ofWhole(level, below);
      high = ofWhole(level, below + 1);
      share = (1 / df - 1.0 / (below + 1)) / (1.0 / below - 1.0 / (below + 1));
    }
    double t = share * low + (1 - share) * high;
    TDistribution distribution = TDistribution.of(df);
    for (int step = 0; step < 2; step++) {
      double newton = (p - distribution.cumulativeProbability(-t)) / distribution.density(t);
      double bend = (df + 1) * t / (df + t * t);
      t -= newton / (1 + newton * bend / 2);
    }
    return t;
  }

  /** P(F &gt; f). */
  public static double fSurvival(double f, double df1, double df2) {
    return FDistribution.of(df1, df2).survivalProbability(f);
  }
}
