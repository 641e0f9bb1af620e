package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A plan and what was done otherwise, as it stood at one moment: a published verdict keeps it.
 *
 * @param lockedAt by the first file; empty where it could still be replaced
 * @param deviations in the order of their kinds
 */
public record PlanOnRecord(
    CampaignPlan plan, Optional<Instant> lockedAt, List<Deviation> deviations) {
  public PlanOnRecord {
    deviations = List.copyOf(deviations);
  }

  /** What differs. */
  public enum What {
    CONDITION_NOT_PLANNED,
    /** Planned and not run; so far, where the campaign goes on. */
    CONDITION_NOT_RUN,
    UNIT_NOT_PLANNED,
    UNIT_NOT_RUN,
    /** Held against another release than planned. */
    OTHER_BASELINE,
    /** The policy's looks or their alphas are not those of the plan. */
    OTHER_LOOKS,
    OTHER_MATERIAL_CHANGE,
    /** A verdict was published before the plan was at its end. */
    STOPPED_EARLY,
    /** A verdict's record is damaged: whether the plan was at its end then isn't known. */
    VERDICT_UNREAD,
    MORE_SESSIONS,
    PASSES_EXCLUDED
  }

  /**
   * One deviation.
   *
   * @param condition that it is about; empty where it is none
   * @param name of the unit or release; empty text where it is none
   * @param count of sessions or passes; 0 where it counts nothing
   */
  public record Deviation(
      What what, Optional<CampaignPlan.Planned> condition, String name, int count) {}
}
