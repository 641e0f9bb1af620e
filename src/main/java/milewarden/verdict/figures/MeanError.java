package milewarden.verdict.figures;

import java.util.Optional;
import milewarden.statistics.Contrast;
import milewarden.statistics.UncertaintySum;
import milewarden.units.PercentRange;
import milewarden.verdict.ModelHistory;

/**
 * The mean error of sessions with equal weight per condition, and how well it is known.
 *
 * @param mean as read
 * @param low mean of the lows; high that of the highs
 * @param variance between sessions, s squared; NaN where no degree of freedom is left
 * @param degreesOfFreedom of s
 * @param leverage the variance of the mean over s squared: 1 / n where all sessions are alike
 * @param unit variance between units and its degrees of freedom; empty where left out
 * @param units of which the mean is
 * @param referenceVariance u_ref squared
 */
public record MeanError(
    double mean,
    double low,
    double high,
    int sessions,
    double variance,
    double degreesOfFreedom,
    double leverage,
    Optional<ModelHistory.UnitVariance> unit,
    int units,
    double referenceVariance) {

  /** Of evidence that is not empty. */
  public static MeanError of(Evidence e, Optional<ModelHistory.UnitVariance> unit) {
    GrowingMean mean = new GrowingMean(e, unit);
    for (int n = 0; n < e.sessions().size(); n++) mean.next();
    return mean.soFar();
  }

  /** False where the spread between sessions can't be known. */
  public boolean hasSpread() {
    return degreesOfFreedom >= 1;
  }

  /** u of the mean with its terms; only where it has a spread. */
  public UncertaintySum uncertainty() {
    UncertaintySum sum =
        UncertaintySum.NONE
            .plus(variance * leverage, degreesOfFreedom)
            .plus(referenceVariance, Double.POSITIVE_INFINITY);
    if (unit.isEmpty()) return sum;
    return sum.plus(unit.get().variance() / units, unit.get().degreesOfFreedom());
  }

  /** The range widened by the uncertainty at this confidence. */
  public PercentRange interval(double level) {
    double half = uncertainty().expanded(level);
    return new PercentRange(low - half, high + half);
  }

  /** The end of the range that lies farther from 0. */
  double unfavourable() {
    return Math.abs(low) > Math.abs(high) ? low : high;
  }

  /** The mean at its unfavourable end, with its uncertainty. */
  Contrast atUnfavourableEnd() {
    UncertaintySum u = uncertainty();
    return new Contrast(unfavourable(), u.standardUncertainty(), u.degreesOfFreedom());
  }
}
