package milewarden.verdict.comparing;

import java.util.Arrays;
import milewarden.statistics.Contrast;
import milewarden.statistics.Distributions;
import milewarden.units.PercentRange;
import milewarden.verdict.Policy;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;

/**
 * How finely the errors of two releases were read, in percent, and what a difference owes to that.
 *
 * @param candidateStep of the display, {@link #ROUNDING} where no display is judged by
 * @param baselineStep likewise
 * @param coarse the step by which intervals are widened; 0 where it resolves the material change
 */
record Resolution(double candidateStep, double baselineStep, double coarse) {
  /**
   * What figures may differ by that are equal: their sums round at 1e-13 percent, and the finest
   * step of any recording's positions, 1e-7 degrees or a centimetre, is 1e-5 percent of 100 km.
   */
  static final double ROUNDING = 1e-9;

  static Resolution of(Evidence c, Evidence b, Source source, Policy policy) {
    if (source != Source.SHOWN) return new Resolution(ROUNDING, ROUNDING, 0);
    double most = Math.max(c.stepPercent(), b.stepPercent());
    // A display that is too coarse can hide, or invent, a step between two means. Where the step
    // resolves the material change it is in the spread, or in what the spread lacks.
    double coarse = most > policy.displayShare() * policy.materialChangePercent() ? most : 0;
    return new Resolution(
        Math.max(ROUNDING, c.stepPercent()), Math.max(ROUNDING, b.stepPercent()), coarse);
  }

  /**
   * The difference with what its spread lacks. Readings that are all equal tell no spread, but what
   * was read can lie anywhere within the step, the same in every session: a variance of a squared /
   * 12 on either side that no number of sessions shrinks. Where the readings scatter by more than
   * the step, their spread holds it. The degrees of freedom stay, which errs to the side of no
   * change.
   *
   * @param sd between sessions, not negative
   * @see "JCGM 100:2008 (GUM), F.2.2.1"
   */
  Contrast floored(Contrast k, double sd) {
    if (coarse > 0) return k;
    double lacks = lacks(candidateStep, sd) + lacks(baselineStep, sd);
    return lacks == 0
        ? k
        : new Contrast(
            k.estimate(), Math.hypot(k.standardError(), Math.sqrt(lacks)), k.degreesOfFreedom());
  }

  private static double lacks(double step, double sd) {
    return Math.max(0, step * step / 12 - sd * sd);
  }

  /** A spread between sessions that is no smaller than what the step alone would make of it. */
  double spread(double sd) {
    return Math.max(sd, Math.max(candidateStep, baselineStep) / Math.sqrt(12));
  }

  /**
   * False where the values of either side lie within one step of each other: whether they are read
   * as one value or as two neighbours is then a matter of rounding, and tells no spread.
   */
  boolean tellsSpread(double[] candidate, double[] baseline) {
    return range(candidate) > candidateStep * (1 + ROUNDING)
        || range(baseline) > baselineStep * (1 + ROUNDING);
  }

  private static double range(double[] x) {
    return Arrays.stream(x).max().orElse(0) - Arrays.stream(x).min().orElse(0);
  }

  PercentRange around(Contrast k, double level) {
    double half = k.halfWidth(level) + coarse;
    return new PercentRange(k.estimate() - half, k.estimate() + half);
  }

  /** Below alpha exactly where the interval at 1 - alpha, widened by the step, excludes 0. */
  double p(Contrast k) {
    if (coarse == 0) return k.p();
    double beyond = Math.abs(k.estimate()) - coarse;
    if (beyond <= 0) return 1;
    return k.standardError() == 0
        ? 0
        : Distributions.tTwoSidedP(beyond / k.standardError(), k.degreesOfFreedom());
  }
}
