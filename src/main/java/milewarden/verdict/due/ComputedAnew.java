package milewarden.verdict.due;

import java.util.List;
import java.util.Optional;
import milewarden.verdict.Conformity;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Deciding;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.MeanError;

/**
 * The runs on which a published verdict rests, as they are measured today: by another engine, or on
 * a course that was measured again.
 *
 * @param source of the verdict's figures
 * @param meanPercent of the same runs today
 * @param sessions of the verdict that are still there
 * @param conformity of the same runs today, one per purpose of the policy
 * @param resultIds ascending
 */
record ComputedAnew(
    Source source,
    double meanPercent,
    int sessions,
    List<Conformity> conformity,
    List<Long> resultIds) {
  ComputedAnew {
    conformity = List.copyOf(conformity);
    resultIds = List.copyOf(resultIds);
  }

  /** Empty where none of its runs counts any more. */
  static Optional<ComputedAnew> of(PublishedVerdict v, ModelHistory history, Policy policy) {
    List<PassEvidence> same =
        history.passesOf(v.firmware()).stream().filter(p -> restsOn(v, p)).toList();
    Evidence e = Evidence.of(v.figures().source(), same);
    if (e.isEmpty()) return Optional.empty();
    return Optional.of(
        new ComputedAnew(
            e.source(),
            MeanError.of(e, Optional.empty()).mean(),
            e.sessions().size(),
            Deciding.conformity(same, policy, history.otherModelsUnits()),
            e.resultIds()));
  }

  private static boolean restsOn(PublishedVerdict v, PassEvidence p) {
    return v.runs().stream()
        .anyMatch(r -> r.session().equals(p.session()) && r.unit().equals(p.unit()));
  }
}
