package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.device.FirmwareRelease;

/**
 * What is known of one release.
 *
 * @param source of the figures and of the sessions
 * @param pooled empty where no session counts
 * @param byCondition in order of the conditions' first sessions
 * @param sessions in order of start
 * @param conformity one per purpose, in the policy's order; empty where no session counts
 * @param threshold empty where no session counts
 * @param excludedPasses left out with a reason; they stay visible
 * @param withoutSource passes that lack the distance judged by
 * @param reliability runs and those that failed by the device's doing; empty where unknown
 */
public record ReleaseJudgement(
    FirmwareRelease release,
    Optional<Instant> firstSeen,
    Optional<Source.Choice> source,
    Optional<ReleaseFigures> pooled,
    List<ReleaseFigures> byCondition,
    List<SessionFigure> sessions,
    List<Conformity> conformity,
    Optional<Threshold> threshold,
    int excludedPasses,
    int withoutSource,
    Optional<Reliability> reliability) {
  public ReleaseJudgement {
    byCondition = List.copyOf(byCondition);
    sessions = List.copyOf(sessions);
    conformity = List.copyOf(conformity);
  }

  /** Where nothing is known of failed runs. */
  public ReleaseJudgement(
      FirmwareRelease release,
      Optional<Instant> firstSeen,
      Optional<Source.Choice> source,
      Optional<ReleaseFigures> pooled,
      List<ReleaseFigures> byCondition,
      List<SessionFigure> sessions,
      List<Conformity> conformity,
      Optional<Threshold> threshold,
      int excludedPasses,
      int withoutSource) {
    this(
        release,
        firstSeen,
        source,
        pooled,
        byCondition,
        sessions,
        conformity,
        threshold,
        excludedPasses,
        withoutSource,
        Optional.empty());
  }

  /** True where at least one session counts. */
  public boolean tested() {
    return pooled.isPresent();
  }
}
