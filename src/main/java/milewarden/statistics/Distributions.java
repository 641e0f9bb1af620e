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
    boolean known = whole >= 1 && whole <= MOST_KEPT && Math.abs(df - whole) < 1e-12 * whole;
    if (!known) return -tQuantile((1 - level) / 2, df);
    if (FACTORS.size() > MOST_LEVELS) FACTORS.clear();
    double[] factors = FACTORS.computeIfAbsent(level, k -> new double[MOST_KEPT + 1]);
    int i = (int) whole;
    // Two that work it out at once write the same number.
    if (factors[i] == 0) factors[i] = -tQuantile((1 - level) / 2, whole);
    return factors[i];
  }

  /** P(F &gt; f). */
  public static double fSurvival(double f, double df1, double df2) {
    return FDistribution.of(df1, df2).survivalProbability(f);
  }
}
