package milewarden.verdict.due;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SmoothingChange;

/**
 * What the causes are sought in.
 *
 * @param releases in order of date
 * @param anchor version of the release that later ones are held against
 * @param comparisons by candidate in order of date
 * @param smoothing by candidate in order of date
 * @param zone in which ages and dates are counted
 */
public record Known(
    ModelHistory history,
    Policy policy,
    List<ReleaseJudgement> releases,
    Optional<String> anchor,
    List<Comparison> comparisons,
    List<SmoothingChange> smoothing,
    List<SuspectRun> suspects,
    Instant now,
    ZoneId zone) {
  public Known {
    releases = List.copyOf(releases);
    comparisons = List.copyOf(comparisons);
    smoothing = List.copyOf(smoothing);
    suspects = List.copyOf(suspects);
  }

  Optional<PublishedVerdict> standing() {
    return history.standing();
  }

  Optional<ReleaseJudgement> newestTested() {
    return releases.stream().filter(ReleaseJudgement::tested).reduce((a, b) -> b);
  }

  Optional<ReleaseJudgement> tested(String version) {
    return releases.stream()
        .filter(r -> r.tested() && r.release().version().equals(version))
        .findFirst();
  }

  Optional<Comparison> againstAnchor(String candidate) {
    return comparisons.stream()
        .filter(c -> c.against() == Against.ANCHOR && c.candidate().equals(candidate))
        .findFirst();
  }

  /** The comparison with the anchor that decides: of the newest release that had a look. */
  Optional<Comparison> decided() {
    return comparisons.stream()
        .filter(c -> c.against() == Against.ANCHOR && !c.looks().isEmpty())
        .reduce((a, b) -> b);
  }

  int firstLook() {
    return policy.looks().get(0).sessions();
  }
}
