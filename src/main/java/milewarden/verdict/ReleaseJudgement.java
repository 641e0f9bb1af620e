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
 * @param waiting where more of a session may come in: then conformity and threshold rest on the
 *     whole sessions alone, while the figures are of all that is here
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
    Optional<Reliability> reliability,
    Optional<Waiting> waiting)
    implements Findings.OfRelease {
  public ReleaseJudgement {
    byCondition = List.copyOf(byCondition);
    sessions = List.copyOf(sessions);
    conformity = List.copyOf(conformity);
  }

  /**
   * What is waited for.
   *
   * @param until when the next session is whole, by what is here now
   * @param figures of the whole sessions; empty where there is none
   * @param results of the whole sessions
   */
  public record Waiting(Instant until, Optional<ReleaseFigures> figures, List<Long> results) {
    public Waiting {
      results = List.copyOf(results);
    }
  }

  /** Where nothing is known of failed runs, and nothing waited for. */
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
        Optional.empty(),
        Optional.empty());
  }

  /** The figures by which it was decided; empty where no whole session counts. */
  public Optional<ReleaseFigures> decidedOn() {
    return waiting.isPresent() ? waiting.get().figures() : pooled;
  }

  /** The results by which it was decided, ascending. */
  public List<Long> decidedResults() {
    return waiting
        .map(Waiting::results)
        .orElseGet(() -> sessions.stream().flatMap(s -> s.resultIds().stream()).sorted().toList());
  }

  @Override
  public Optional<Instant> waitsUntil() {
    return waiting.map(Waiting::until);
  }
}
