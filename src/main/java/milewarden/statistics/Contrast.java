package milewarden.statistics;

/**
 * An estimate with its standard error: of a difference of means, a mean, a coefficient.
 *
 * @param standardError not negative; 0 where the values did not vary
 * @param degreesOfFreedom above 0; may be infinite
 */
public record Contrast(double estimate, double standardError, double degreesOfFreedom) {
  public Contrast {
    if (!(standardError >= 0)) throw new IllegalArgumentException("error: " + standardError);
    if (!(degreesOfFreedom > 0)) throw new IllegalArgumentException("df: " + degreesOfFreedom);
  }

  /** Difference of means, first minus second, by one pooled variance; each of 1 value or more. */
  public static Contrast pooled(Sample a, Sample b) {
    double df = a.n() + b.n() - 2.0;
    double variance = (a.sumOfSquares() + b.sumOfSquares()) / df;
    return new Contrast(a.mean() - b.mean(), Math.sqrt(variance * (1.0 / a.n() + 1.0 / b.n())), df);
  }

  /** Difference of means, first minus second, each with its own variance (Welch 1947). */
  public static Contrast welch(Sample a, Sample b) {
    double va = a.variance() / a.n();
    double vb = b.variance() / b.n();
    double df =
        va + vb == 0
            ? a.n() + b.n() - 2.0
            : (va + vb) * (va + vb) / (va * va / (a.n() - 1) + vb * vb / (b.n() - 1));
    return new Contrast(a.mean() - b.mean(), Math.sqrt(va + vb), df);
  }

  /** t; infinite where the error is 0 and the estimate is not. */
  public double t() {
    return estimate == 0 ? 0 : estimate / standardError;
  }

  /** Two-sided p against 0. */
  public double p() {
    if (standardError == 0) return estimate == 0 ? 1 : 0;
    return Distributions.tTwoSidedP(t(), degreesOfFreedom);
  }

  /** Half the width of the two-sided interval of confidence {@code level}. */
  public double halfWidth(double level) {
    return standardError * Distributions.tFactor(level, degreesOfFreedom);
  }

  /**
   * The larger p of two one-sided tests that the true value lies within +-margin (Schuirmann 1987):
   * below alpha exactly where the interval of confidence 1 - 2 alpha lies within.
   */
  public double equivalenceP(double margin) {
    if (standardError == 0) return Math.abs(estimate) < margin ? 0 : 1;
    double below = Distributions.tCdf(-(estimate + margin) / standardError, degreesOfFreedom);
    double above = Distributions.tCdf((estimate - margin) / standardError, degreesOfFreedom);
    return Math.max(below, above);
  }

  /** The probability that the true value lies between low and high, by the t distribution. */
  public double massBetween(double low, double high) {
    if (standardError == 0) return low <= estimate && estimate <= high ? 1 : 0;
    return Distributions.tCdf((high - estimate) / standardError, degreesOfFreedom)
        - Distributions.tCdf((low - estimate) / standardError, degreesOfFreedom);
  }
}
