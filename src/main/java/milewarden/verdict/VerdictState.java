package milewarden.verdict;

import java.time.Duration;
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
    if (due.stream().anyMatch(d -> d.kind() == DueItem.Kind.VERDICT_UPDATE_DUE))
      return UNDER_REVIEW;
    if (isOld(verdict.verdict(), policy, now, zone)) return STALE;
    boolean tooLong =
        due.stream().anyMatch(d -> openFor(d, history, now) >= policy.staleAfterDays());
    if (tooLong) return STALE;
    return due.isEmpty() ? CURRENT : RETEST_DUE;
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

  private static long openFor(DueItem item, ModelHistory history, Instant now) {
    return history.openDue().stream()
        .filter(o -> o.key().equals(item.key()) && item.kind() == DueItem.Kind.RETEST_DUE)
        .mapToLong(o -> Duration.between(o.raisedAt(), now).toDays())
        .max()
        .orElse(0);
  }
}
