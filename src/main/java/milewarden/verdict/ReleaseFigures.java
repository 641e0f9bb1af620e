package milewarden.verdict;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.PercentRange;

/**
 * The figures of one release in one condition, or pooled with equal weight per condition. All in
 * percent of the reference, positive when the device over-reads.
 *
 * @param condition empty: pooled over the conditions
 * @param meanPercent trueness; of a shown distance as read
 * @param meanRange mean of the lows and of the highs; both equal the mean where nothing was shown
 * @param sdPercent precision: standard deviation between sessions; empty where it can't be known
 * @param degreesOfFreedom of the mean's uncertainty (Welch-Satterthwaite); infinite where the
 *     reference dominates: given as 1e9 at most
 * @param standardUncertaintyPercent u of the mean
 * @param expandedUncertaintyPercent U of the mean at 95 %
 * @param interval the range widened by U
 * @param nextRun 95 % prediction interval of one pass
 * @param limitsOfAgreement 95 % (Bland and Altman 1986), between sessions and passes
 * @param meanAbsolutePercent mean of the passes' absolute errors
 * @param passSdPercent standard deviation of a pass within an outing
 * @param unitSdPercent standard deviation between units; empty where unknown
 * @param referenceStandardUncertaintyPercent u_ref, common to all runs on a course
 * @param theseUnitsOnly true where the term of units is left out: the figures hold for these units
 * @param oppositeSigns true where the conditions' means differ in sign
 */
public record ReleaseFigures(
    Source source,
    Optional<Condition> condition,
    int sessions,
    int days,
    int units,
    int passes,
    double meanPercent,
    PercentRange meanRange,
    OptionalDouble sdPercent,
    OptionalDouble degreesOfFreedom,
    OptionalDouble standardUncertaintyPercent,
    OptionalDouble expandedUncertaintyPercent,
    Optional<PercentRange> interval,
    Optional<PercentRange> nextRun,
    Optional<PercentRange> limitsOfAgreement,
    double meanAbsolutePercent,
    OptionalDouble passSdPercent,
    OptionalDouble unitSdPercent,
    double referenceStandardUncertaintyPercent,
    boolean theseUnitsOnly,
    Sufficiency sufficiency,
    boolean oppositeSigns) {
  /** How far the evidence carries. */
  public enum Sufficiency {
    /** Too few sessions: nothing is decided. */
    INSUFFICIENT,
    /** Decided, but sessions, days or units are few. */
    PROVISIONAL,
    SUFFICIENT
  }
}
