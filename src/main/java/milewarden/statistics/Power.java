package milewarden.statistics;

import java.util.Map;
import java.util.OptionalInt;
import java.util.concurrent.ConcurrentHashMap;

/** Power of the two-sided, two-sample t test with a pooled variance (Cohen 1988). */
public final class Power {
  private static final int MOST_SESSIONS = 1_000;
  // The same few questions come at every look of every model; an answer takes a millisecond.
  private static final int MOST_KEPT = 2_000;
  private static final Map<Question, Double> DETECTABLE = new ConcurrentHashMap<>();

  private record Question(double df, double alpha, double power) {}

  private Power() {}

  /**
   * The chance that a true difference is found.
   *
   * @param effect difference over the standard deviation
   * @param n1 and n2: values on either side, together 3 or more
   * @param alpha two-sided
   */
  public static double of(double effect, int n1, int n2, double alpha) {
    double df = n1 + n2 - 2.0;
    double delta = Math.abs(effect) / Math.sqrt(1.0 / n1 + 1.0 / n2);
    return ofContrast(delta, df, alpha);
  }

  /** The same for a contrast whose true value is {@code delta} standard errors. */
  public static double ofContrast(double delta, double df, double alpha) {
    return beyond(Distributions.tFactor(1 - alpha, df), df, delta);
  }

  private static double beyond(double critical, double df, double delta) {
    return 1 - NoncentralT.cdf(critical, df, delta) + NoncentralT.cdf(-critical, df, delta);
  }

  /** The noncentrality, in standard errors, that is found with chance {@code power}. */
  public static double detectable(double df, double alpha, double power) {
    if (DETECTABLE.size() > MOST_KEPT) DETECTABLE.clear();
    return DETECTABLE.computeIfAbsent(
        new Question(df, alpha, power), q -> search(q.df(), q.alpha(), q.power()));
  }

  private static double search(double df, double alpha, double power) {
    double critical = Distributions.tFactor(1 - alpha, df);
    double low = 0;
    double high = 1;
    while (beyond(critical, df, high) < power && high < 1e6) high *= 2;
    // 32 halvings leave 1e-9 of the starting width.
    for (int i = 0; i < 32; i++) {
      double middle = (low + high) / 2;
      if (beyond(critical, df, middle) < power) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }

  /**
   * The least n1 that finds {@code effect} with chance {@code power} against a fixed other side.
   *
   * @return empty where no number does, because the other side is too small
   */
  public static OptionalInt sessionsAgainst(double effect, int n2, double alpha, double power) {
    return least(n -> within(effect, n, n2, alpha, power));
  }

  /** The least n on each side that finds {@code effect} with chance {@code power}. */
  public static OptionalInt sessionsEach(double effect, double alpha, double power) {
    return least(n -> within(effect, n, n, alpha, power));
  }

  /**
   * With a known variance the test finds more: where that is too little, the t test is not asked.
   */
  private static boolean within(double effect, int n1, int n2, double alpha, double power) {
    double delta = Math.abs(effect) / Math.sqrt(1.0 / n1 + 1.0 / n2);
    double z = -Distributions.normalQuantile(alpha / 2);
    double known = Distributions.normalCdf(delta - z) + Distributions.normalCdf(-delta - z);
    return known >= power && ofContrast(delta, n1 + n2 - 2.0, alpha) >= power;
  }

  private static OptionalInt least(java.util.function.IntPredicate enough) {
    int low = 1;
    int high = 2;
    // By doubling first: the series of the noncentral t is long where there are many sessions.
    while (!enough.test(high)) {
      if (high == MOST_SESSIONS) return OptionalInt.empty();
      low = high;
      high = Math.min(MOST_SESSIONS, 2 * high);
    }
    while (high - low > 1) {
      int middle = (low + high) >>> 1;
      if (middle >= 2 && enough.test(middle)) high = middle;
      else low = middle;
    }
    return OptionalInt.of(high);
  }
}
