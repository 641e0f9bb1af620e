package milewarden.statistics;

/**
 * A sum of independent squared standard uncertainties with its effective degrees of freedom.
 * Immutable: {@code plus} gives a new sum.
 *
 * @param variance u_c squared
 * @param denominator sum of u_i^4 / nu_i
 * @see "JCGM 100:2008 (GUM), equation G.2b: Welch-Satterthwaite"
 */
public record UncertaintySum(double variance, double denominator) {
  /** Nothing yet. */
  public static final UncertaintySum NONE = new UncertaintySum(0, 0);

  /**
   * With one more term.
   *
   * @param variance its squared standard uncertainty, not negative
   * @param degreesOfFreedom above 0; may be infinite
   */
  public UncertaintySum plus(double variance, double degreesOfFreedom) {
    if (!(variance >= 0)) throw new IllegalArgumentException("variance: " + variance);
    return new UncertaintySum(
        this.variance + variance, denominator + variance * variance / degreesOfFreedom);
  }

  /** u_c. */
  public double standardUncertainty() {
    return Math.sqrt(variance);
  }

  /** nu_eff; infinite where no term has a finite one. */
  public double degreesOfFreedom() {
    return denominator == 0 ? Double.POSITIVE_INFINITY : variance * variance / denominator;
  }

  /** U at confidence {@code level}. */
  public double expanded(double level) {
    return standardUncertainty() * Distributions.tFactor(level, degreesOfFreedom());
  }
}
