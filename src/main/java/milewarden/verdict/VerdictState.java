package milewarden.verdict;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import milewarden.verdict.ModelHistory.VerdictOnRecord;

/** Where a published verdict stands today. */
public enum VerdictState {
  CURRENT,
  /** Something asks for more sessions. */
  RETEST_DUE,
  /** An alert is open: what was said may no longer hold. */
  UNDER_REVIEW,
  /** Too old, or too long due for a retest. */
  STALE,
  SUPERSEDED,
  WITHDRAWN;

  /**
   * The state of one verdict of a history.
   *
   * @param due what the judge finds due now
   * @param zone in which months are counted
   */
  public static VerdictState of(
      VerdictOnRecord verdict,
      ModelHistory history,
      List<DueItem> due,
      Policy policy,
      Instant now,
      ZoneId zone) {
    if (verdict.withdrawal().isPresent()) return WITHDRAWN;
    int number = verdict.verdict().number();
    if (history.verdicts().stream().anyMatch(v -> v.verdict().number() > number)) return SUPERSEDED;
    List<DueItem> open = due.stream().filter(d -> !isDismissed(d, history)).toList();
    if (open.stream().anyMatch(d -> d.kind() == DueItem.Kind.VERDICT_UPDATE_DUE))
      return UNDER_REVIEW;
    if (isOld(verdict.verdict(), policy, now, zone)) return STALE;
    if (open.stream().anyMatch(d -> isOverdue(d, history, policy, now, zone))) return STALE;
    return open.isEmpty() ? CURRENT : RETEST_DUE;
  }

  private static boolean isDismissed(DueItem item, ModelHistory history) {
    return history.openDue().stream().anyMatch(o -> o.key().equals(item.key()) && o.dismissed());
  }

  /** True once the policy's months have passed since it was published. */
  public static boolean isOld(PublishedVerdict verdict, Policy policy, Instant now, ZoneId zone) {
    return !verdict
        .publishedAt()
        .atZone(zone)
        .plusMonths(policy.verdictMonths())
        .toInstant()
        .isAfter(now);
  }

  /** True once the policy's days of the calendar have passed since a retest was due. */
  private static boolean isOverdue(
      DueItem item, ModelHistory history, Policy policy, Instant now, ZoneId zone) {
    return item.kind() == DueItem.Kind.RETEST_DUE
        && history.openDue().stream()
            .filter(o -> o.key().equals(item.key()))
            .anyMatch(
                o ->
                    !o.raisedAt()
                        .atZone(zone)
                        .plusDays(policy.staleAfterDays())
                        .toInstant()
                        .isAfter(now));
  }
}
