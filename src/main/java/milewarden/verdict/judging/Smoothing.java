package milewarden.verdict.judging;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.verdict.Comparison;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.comparing.SmoothingComparing;

/** The smoothing of each tested release against that of the tested one before. */
final class Smoothing {
  private Smoothing() {}

  /** In order of the later releases' dates; those of which something can be said. */
  static List<SmoothingChange> of(
      ModelHistory history,
      List<ReleaseJudgement> releases,
      List<Comparison> comparisons,
      Policy policy,
      Instant now) {
    List<SmoothingChange> found = new ArrayList<>();
    Optional<List<PassEvidence>> before = Optional.empty();
    if (history.lags().isEmpty()) return found;
    for (ReleaseJudgement r : releases) {
      if (!r.tested()) continue;
      List<PassEvidence> all = history.passesOf(r.release().version());
      List<PassEvidence> whole = WholePart.of(all, history, policy, now).passes();
      before
          .flatMap(b -> SmoothingComparing.of(whole, b, history.lags(), policy))
          .map(s -> s.beside(distance(comparisons, s)))
          .ifPresent(found::add);
      before = Optional.of(whole);
    }
    return found;
  }

  private static Optional<Comparison.Outcome> distance(
      List<Comparison> comparisons, SmoothingChange s) {
    return comparisons.stream()
        .filter(c -> c.candidate().equals(s.candidate()) && c.baseline().equals(s.baseline()))
        .map(Comparison::outcome)
        .findFirst();
  }
}
