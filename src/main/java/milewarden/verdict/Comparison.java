package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.units.PercentRange;

/**
 * A release held against an earlier one, within the conditions in which both were tested.
 *
 * @param candidate the later release's version
 * @param baseline the earlier release's version
 * @param sides figures of both, of the last look taken, else of the sessions so far; empty where a
 *     side has none in common conditions
 * @param estimate of the last look taken, else of the sessions so far
 * @param conditions the same for each common condition
 * @param looks that were taken, in order, each with its re-looks
 * @param nextLookAt candidate's sessions at which the next look is taken; empty where closed
 * @param lookWaitsUntil where a look has its sessions and waits because more of them may come in;
 *     the moment of judging where it waits only for what is in to be measured
 * @param minimumDetectableChangePercent change found with the policy's power at today's sessions
 * @param sessionsNeeded candidate's sessions still needed to find the material change; empty where
 *     unknown, or where no number would do
 * @param cautions what a reader must know
 */
public record Comparison(
    String candidate,
    String baseline,
    Against against,
    Source.Choice source,
    int candidateSessions,
    int baselineSessions,
    Optional<Sides> sides,
    Optional<Estimate> estimate,
    List<OfCondition> conditions,
    Optional<Spread> spread,
    List<Look> looks,
    OptionalInt nextLookAt,
    Optional<Instant> lookWaitsUntil,
    Outcome outcome,
    Because because,
    OptionalDouble minimumDetectableChangePercent,
    OptionalInt sessionsNeeded,
    List<Caution> cautions)
    implements Findings.OfComparison {
  public Comparison {
    conditions = List.copyOf(conditions);
    looks = List.copyOf(looks);
    cautions = List.copyOf(cautions);
  }

  /** The last look that decides; those beside it are passed over. */
  public Optional<Look> lastLook() {
    return looks.stream().filter(l -> !l.beside()).reduce((a, b) -> b);
  }

  /** What the candidate is held against. */
  public enum Against {
    /** The release on which the published verdict rests: this one decides. */
    ANCHOR,
    /** The tested release before: shown beside, with half the alpha. */
    PREVIOUS
  }

  /** What was found; tried in this order. */
  public enum Outcome {
    WORSE,
    BETTER,
    EQUIVALENT,
    CHANGED,
    NOT_SETTLED
  }

  /** Why the outcome is what it is. */
  public enum Because {
    /** The size of the mean error grew by more than the material change. */
    MEAN_ERROR_GREW,
    MEAN_ERROR_SHRANK,
    /** It did so in one condition; see the conditions. */
    GREW_IN_A_CONDITION,
    SHRANK_IN_A_CONDITION,
    /** A purpose's decision fell to fail. */
    A_PURPOSE_FAILS,
    A_PURPOSE_NO_LONGER_FAILS,
    /** The spread between sessions differs: the release adds noise, or takes it away. */
    SPREAD_GREW,
    SPREAD_SHRANK,
    WITHIN_MATERIAL_CHANGE,
    /** Within the material change, but not zero. */
    SMALL_BUT_REAL,
    /** The difference is real and neither better nor worse: the sign turned, or it is small. */
    DIFFERENCE_IS_REAL,
    /** The interval holds zero and reaches beyond the material change. */
    INTERVAL_TOO_WIDE,
    /** Before the first look. */
    TOO_FEW_SESSIONS,
    /** The first look has its sessions; more of them may be coming in. */
    STILL_COMING_IN,
    BASELINE_TOO_THIN,
    NO_COMMON_CONDITION,
    /** More conditions than sessions can tell apart. */
    NO_DEGREES_OF_FREEDOM,
    /** Different units whose variance is not known: the firmware or the unit may have done it. */
    UNITS_CANNOT_BE_TOLD_APART,
    /** Standard deviations differ and the two tests disagree. */
    TESTS_DISAGREE
  }

  /** What a reader must know of a comparison. */
  public enum Caution {
    /** Fewer baseline sessions than asked for. */
    THIN_BASELINE,
    /** The releases were run on different units; their variance is carried where known. */
    UNITS_DIFFER,
    /** Different units whose variance is not known. */
    UNIT_VARIANCE_UNKNOWN,
    /** The display's step is coarser than a quarter of the material change. */
    DISPLAY_TOO_COARSE,
    /** Standard deviations differ by more than the policy's ratio; Welch's test stands beside. */
    UNEQUAL_SPREAD,
    /** The units differ; joint sessions told by how much. */
    RE_ANCHORED,
    /** Sessions with one direction only are among them. */
    ONE_DIRECTION,
    /** Sessions, or one direction of them, had no like in the other release and were left out. */
    LEFT_OUT_FOR_DIRECTION,
    /** A control unit was used as a covariate. */
    CONTROL_USED,
    /** Sessions without a control unit were left out of the adjusted difference. */
    SESSIONS_WITHOUT_CONTROL,
    /** A late or newly excluded run opened a re-look. */
    RE_LOOK,
    /** After the last look; later sessions feed monitoring. */
    CLOSED
  }

  /**
   * A difference of means, candidate minus baseline.
   *
   * @param percent in points of percent
   * @param interval at 95 %, whatever the look's alpha
   * @param decisionInterval at 1 - alpha: the one that decides
   * @param p two-sided
   * @param permutationP two-sided; empty at the first look, where it could not reach alpha
   * @param welchP two-sided; empty where the standard deviations are alike
   * @param controlSlope share of the control unit's error that is taken out, 0 to 1; empty where
   *     none is
   */
  public record Estimate(
      double percent,
      double standardError,
      double degreesOfFreedom,
      PercentRange interval,
      PercentRange decisionInterval,
      PercentRange equivalenceInterval,
      double p,
      OptionalDouble permutationP,
      OptionalDouble welchP,
      OptionalDouble controlSlope) {
    /** The same with the p of the permutation test. */
    public Estimate withPermutationP(double found) {
      return new Estimate(
          percent,
          standardError,
          degreesOfFreedom,
          interval,
          decisionInterval,
          equivalenceInterval,
          p,
          OptionalDouble.of(found),
          welchP,
          controlSlope);
    }
  }

  /** The difference within one condition; empty where too few sessions. */
  public record OfCondition(
      Condition condition,
      int candidateSessions,
      int baselineSessions,
      double candidateMeanPercent,
      double baselineMeanPercent,
      Optional<Estimate> estimate) {}

  /** Figures of both releases from the sessions compared. */
  public record Sides(ReleaseFigures candidate, ReleaseFigures baseline) {}

  /**
   * The spread between sessions (Brown and Forsythe 1974).
   *
   * @param ratio candidate's standard deviation over the baseline's; empty where the latter is 0
   * @param alpha what {@code p} was held against
   */
  public record Spread(
      double candidateSdPercent,
      double baselineSdPercent,
      OptionalDouble ratio,
      double f,
      double p,
      double alpha) {}
}
