package milewarden.verdict;

import java.util.OptionalDouble;
import milewarden.verdict.Policy.Purpose;
import milewarden.verdict.ReleaseFigures.Sufficiency;

/**
 * Whether a release is accurate enough for a purpose.
 *
 * @param source what the decision rests on, with the reason
 * @param decision the worse of the two below
 * @param mean by the guard band on the mean error (ILAC-G8:09/2019, JCGM 106:2012)
 * @param nextRun by the prediction interval
 * @param provisional true where sessions, days or units are few
 * @param meanPercent the unfavourable end of the mean error that was held against the limit
 * @param guardBandPercent w, the expanded uncertainty of the mean
 * @param meanProbability probability that the mean error conforms, 0 to 1
 * @param nextRunProbability probability that the next run conforms, 0 to 1
 * @param lengthNeededM length of a pass at which a limit that is not resolvable would be
 */
public record Conformity(
    Purpose purpose,
    Source.Choice source,
    Decision decision,
    Decision mean,
    Decision nextRun,
    boolean provisional,
    Sufficiency sufficiency,
    OptionalDouble meanPercent,
    OptionalDouble guardBandPercent,
    OptionalDouble meanProbability,
    OptionalDouble nextRunProbability,
    OptionalDouble lengthNeededM) {
  /** From best to worst; then the two that decide nothing. */
  public enum Decision {
    PASS,
    CONDITIONAL_PASS,
    CONDITIONAL_FAIL,
    FAIL,
    /** The limit is below what the reference or the display can tell. */
    NOT_RESOLVABLE,
    /** Fewer sessions than any decision takes. */
    INSUFFICIENT_EVIDENCE;

    /** True for the four that say something of the device. */
    public boolean decided() {
      return compareTo(FAIL) <= 0;
    }
  }
}
