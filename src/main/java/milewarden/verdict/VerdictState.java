package milewarden.verdict;

/** Where a published verdict stands today. */
public enum VerdictState {
  CURRENT,
  RETEST_DUE,
  UNDER_REVIEW,
  STALE,
  SUPERSEDED,
  WITHDRAWN
}
