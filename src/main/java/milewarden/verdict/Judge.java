package milewarden.verdict;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.Engine;

/** Judges one model from all its measured passes: pure, deterministic, in milliseconds. */
public final class Judge {
  private Judge() {}

  /**
   * The judgement as of {@code now}.
   *
   * @param zone in which a verdict's age is counted
   */
  public static ModelJudgement judge(
      ModelHistory history, Policy policy, Instant now, ZoneId zone) {
    return new ModelJudgement(
        history.model(),
        now,
        Engine.VERSION,
        List.of(),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        Optional.empty());
  }
}
