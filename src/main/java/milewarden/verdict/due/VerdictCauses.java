package milewarden.verdict.due;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.verdict.Conformity;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.DueItem.DecisionChange;
import milewarden.verdict.DueItem.Severity;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Threshold;
import milewarden.verdict.VerdictState;

/** Causes that lie in what was said in public: it is old, it moved, it no longer holds. */
final class VerdictCauses {
  private final Known known;
  private final Advising advising;
  private final List<DueItem> found = new ArrayList<>();

  VerdictCauses(Known known, Advising advising) {
    this.known = known;
    this.advising = advising;
  }

  List<DueItem> find() {
    Optional<PublishedVerdict> standing = known.standing();
    standing.ifPresent(this::old);
    List<DecisionChange> explained = standing.map(this::moved).orElse(List.of());
    standing
        .flatMap(v -> known.tested(v.firmware()))
        .ifPresent(r -> decisions(standing.get(), r, explained));
    thresholds(standing);
    return found;
  }

  private void old(PublishedVerdict v) {
    if (!VerdictState.isOld(v, known.policy(), known.now(), known.zone())) return;
    found.add(
        new Raised(Cause.VERDICT_OLD, "verdict-old:" + v.number(), Severity.STALE)
            .date(v.publishedAt().atZone(known.zone()).toLocalDate())
            .wanted(known.policy().verdictMonths())
            .evidence(v.runs().stream().map(PublishedVerdict.RunUsed::resultId).sorted().toList())
            .item(known, v.firmware(), advising.forRelease(v.firmware(), known.firstLook())));
  }

  /**
   * The verdict's own runs, computed anew: by another engine, or on a re-measured course.
   *
   * @return the decisions that it changes; they need no item of their own
   */
  private List<DecisionChange> moved(PublishedVerdict v) {
    Optional<String> course = remeasured(v);
    if (course.isEmpty() && v.engineVersion().equals(Engine.VERSION)) return List.of();
    Optional<ComputedAnew> anew = ComputedAnew.of(v, known.history(), known.policy());
    if (anew.isEmpty()) return List.of();
    double mean = anew.get().meanPercent();
    List<DecisionChange> changes = changes(v, anew.get().conformity());
    if (rounded(mean) == rounded(v.figures().meanPercent()) && changes.isEmpty()) return changes;
    Raised raised =
        course
            .map(c -> remeasured(c, v, changes))
            .orElseGet(() -> byEngine(v, changes))
            .purposes(changes)
            .percent(mean - v.figures().meanPercent())
            .sessions(anew.get().sessions())
            .source(anew.get().source())
            .evidence(anew.get().resultIds());
    found.add(raised.item(known, v.firmware(), Advising.none()));
    return changes;
  }

  private static Raised remeasured(String course, PublishedVerdict v, List<DecisionChange> by) {
    String key = "course-remeasured:" + course + ":" + v.number();
    return new Raised(Cause.COURSE_REMEASURED, key, severity(by)).course(course);
  }

  private static Raised byEngine(PublishedVerdict v, List<DecisionChange> by) {
    String key = "engine-moved:" + Engine.VERSION + ":" + v.number();
    return new Raised(Cause.ENGINE_MOVED_RESULTS, key, severity(by));
  }

  private static Severity severity(List<DecisionChange> changes) {
    if (changes.isEmpty()) return Severity.HOUSEKEEPING;
    return wrong(changes) ? Severity.VERDICT_WRONG : Severity.STALE;
  }

  private static boolean wrong(List<DecisionChange> changes) {
    return changes.stream().anyMatch(c -> passes(c.published()) != passes(c.now()));
  }

  private static boolean passes(Decision d) {
    return d == Decision.PASS || d == Decision.CONDITIONAL_PASS;
  }

  private long rounded(double percent) {
    return Math.round(percent / known.policy().figureStepPercent());
  }

  private Optional<String> remeasured(PublishedVerdict v) {
    return v.courses().stream()
        .filter(
            c ->
                known.history().passes().stream()
                    .map(PassEvidence::condition)
                    .anyMatch(
                        k -> k.course().equals(c.slug()) && !k.courseVersion().equals(c.version())))
        .map(PublishedVerdict.CourseUsed::slug)
        .findFirst();
  }

  private void decisions(
      PublishedVerdict v, ReleaseJudgement release, List<DecisionChange> explained) {
    List<DecisionChange> changes = changes(v, release.conformity());
    changes.removeAll(explained);
    if (changes.isEmpty()) return;
    ReleaseFigures figures = release.decidedOn().orElseThrow();
    Severity severity = wrong(changes) ? Severity.VERDICT_WRONG : Severity.STALE;
    Raised raised =
        new Raised(Cause.DECISION_CHANGED, "decision-changed:" + v.number(), severity)
            .purposes(changes)
            .percent(figures.meanPercent())
            .sessions(figures.sessions())
            .source(figures.source())
            .evidence(release.decidedResults());
    figures.interval().ifPresent(raised::interval);
    found.add(raised.item(known, v.firmware(), Advising.none()));
  }

  private static List<DecisionChange> changes(PublishedVerdict v, List<Conformity> now) {
    List<DecisionChange> changes = new ArrayList<>();
    for (Conformity published : v.decisions())
      for (Conformity c : now)
        if (c.purpose().equals(published.purpose())
            && c.decision().decided()
            && published.decision().decided()
            && c.decision() != published.decision())
          changes.add(new DecisionChange(c.purpose().code(), published.decision(), c.decision()));
    return changes;
  }

  /** Of the newest tested release, and of the one that the verdict is on. */
  private void thresholds(Optional<PublishedVerdict> standing) {
    Optional<ReleaseJudgement> newest = known.newestTested();
    newest.ifPresent(r -> threshold(r, standing));
    Optional<ReleaseJudgement> own = standing.flatMap(v -> known.tested(v.firmware()));
    if (!own.equals(newest)) own.ifPresent(r -> threshold(r, standing));
  }

  private void threshold(ReleaseJudgement r, Optional<PublishedVerdict> standing) {
    Threshold.State published =
        standing.map(PublishedVerdict::threshold).orElse(Threshold.State.UNDETERMINED);
    Threshold t = r.threshold().orElseThrow();
    boolean raised = t.state() == Threshold.State.RAISED && published != Threshold.State.RAISED;
    boolean cleared = t.state() == Threshold.State.CLEARED && published == Threshold.State.RAISED;
    if (!raised && !cleared) return;
    String version = r.release().version();
    boolean own = standing.filter(v -> v.firmware().equals(version)).isPresent();
    Severity severity =
        cleared ? Severity.STALE : own ? Severity.VERDICT_WRONG : Severity.REGRESSION;
    ReleaseFigures figures = r.decidedOn().orElseThrow();
    Raised item =
        new Raised(
                raised ? Cause.THRESHOLD_RAISED : Cause.THRESHOLD_CLEARED,
                (raised ? "threshold-raised:" : "threshold-cleared:") + version,
                severity)
            .percent(figures.meanPercent())
            .limit(t.limitPercent())
            .sessions(figures.sessions())
            .source(t.source().source())
            .evidence(r.decidedResults());
    t.interval().ifPresent(item::interval);
    found.add(item.item(known, version, Advising.none()));
  }
}
