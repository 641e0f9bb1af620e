package milewarden.verdict.due;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Advice;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.DueItem.Severity;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SmoothingChange;

/** Causes that lie in a release: not tested, not settled, changed, a run far off. */
final class ReleaseCauses {
  private final Known known;
  private final Advising advising;
  private final List<DueItem> found = new ArrayList<>();

  ReleaseCauses(Known known, Advising advising) {
    this.known = known;
    this.advising = advising;
  }

  List<DueItem> find() {
    known.newestTested().ifPresent(this::newerFirmware);
    known.newestTested().ifPresent(this::notSettled);
    known.decided().ifPresent(this::changed);
    known.newestTested().ifPresent(this::smoothed);
    // A release that another followed asks for no repeat.
    known
        .newestTested()
        .ifPresent(
            r ->
                known.suspects().stream()
                    .filter(s -> !s.repeated() && s.firmware().equals(r.release().version()))
                    .forEach(this::suspect));
    return found;
  }

  private void newerFirmware(ReleaseJudgement tested) {
    ReleaseJudgement newest = known.releases().get(known.releases().size() - 1);
    if (newest.tested()) return;
    String version = newest.release().version();
    found.add(
        new Raised(Cause.NEWER_FIRMWARE, "newer-firmware:" + version, Severity.STALE)
            .other(tested.release().version())
            .sessions(0)
            .wanted(known.firstLook())
            .date(newest.release().date())
            .item(known, version, advising.forRelease(version, known.firstLook())));
  }

  private void notSettled(ReleaseJudgement tested) {
    String version = tested.release().version();
    Optional<Comparison> c = known.againstAnchor(version);
    if (c.isEmpty() || c.get().outcome() != Outcome.NOT_SETTLED) return;
    Comparison open = c.get();
    String key = "not-settled:" + version + ":" + open.baseline();
    // A look that only waits for its sessions to be whole asks nobody for anything.
    boolean waits = open.lookWaitsUntil().isPresent();
    if (waits && known.history().openDue().stream().noneMatch(d -> d.key().equals(key))) return;
    found.add(
        of(Cause.COMPARISON_NOT_SETTLED, key, Severity.STALE, open)
            .item(known, version, advising.forComparison(open)));
  }

  private void changed(Comparison c) {
    Cause cause;
    Severity severity = Severity.STALE;
    switch (c.outcome()) {
      case WORSE -> {
        cause = Cause.COMPARISON_WORSE;
        severity = Severity.REGRESSION;
      }
      case BETTER -> cause = Cause.COMPARISON_BETTER;
      case CHANGED -> {
        cause = Cause.COMPARISON_CHANGED;
        if (c.because() == Comparison.Because.SPREAD_GREW) severity = Severity.REGRESSION;
      }
      case EQUIVALENT, NOT_SETTLED -> {
        return;
      }
      default -> throw new IllegalStateException(c.outcome().name());
    }
    String outcome = c.outcome().name().toLowerCase(Locale.ROOT);
    String key = "comparison-" + outcome + ":" + c.candidate() + ":" + c.baseline();
    found.add(of(cause, key, severity, c).item(known, c.candidate(), Advising.none()));
  }

  private static Raised of(Cause cause, String key, Severity severity, Comparison c) {
    Raised raised =
        new Raised(cause, key, severity)
            .other(c.baseline())
            .sessions(c.candidateSessions())
            .because(c.because())
            .source(c.source().source());
    c.estimate().ifPresent(e -> raised.percent(e.percent()).interval(e.interval()));
    if (c.because() == Comparison.Because.SPREAD_GREW
        || c.because() == Comparison.Because.SPREAD_SHRANK) c.spread().ifPresent(raised::spread);
    c.nextLookAt().ifPresent(raised::wanted);
    c.lastLook().ifPresent(l -> raised.evidence(l.candidateResults()));
    return raised;
  }

  /**
   * Another filter, though the distance may be as before. Where the distance changed, too, that is
   * told; and who published on the release has looked at it.
   */
  private void smoothed(ReleaseJudgement tested) {
    String version = tested.release().version();
    if (known.standing().filter(v -> v.firmware().equals(version)).isPresent()) return;
    known.smoothing().stream()
        .filter(s -> s.changed() && s.candidate().equals(version))
        .filter(s -> s.distance().map(ReleaseCauses::asBefore).orElse(true))
        .forEach(this::smoothed);
  }

  private static boolean asBefore(Outcome distance) {
    return distance == Outcome.EQUIVALENT || distance == Outcome.NOT_SETTLED;
  }

  private void smoothed(SmoothingChange s) {
    String key = "smoothing-changed:" + s.candidate() + ":" + s.baseline();
    found.add(
        new Raised(Cause.SMOOTHING_CHANGED, key, Severity.HOUSEKEEPING)
            .other(s.baseline())
            .sessions(s.candidateSessions())
            .smoothing(s)
            .evidence(s.evidence())
            .item(known, s.candidate(), Advising.none()));
  }

  private void suspect(SuspectRun s) {
    Advice advice = advising.repeat(s);
    // By outing and unit: the result's number changes when it is computed anew.
    found.add(
        new Raised(Cause.SUSPECT_RUN, "suspect-run:" + s.session() + ":" + s.unit(), Severity.STALE)
            .percent(s.errorPercent())
            .interval(s.interval())
            .limit(s.limitPercent())
            .course(s.condition().course())
            .source(s.source())
            .evidence(List.of(s.resultId()))
            .item(known, s.firmware(), advice));
  }
}
