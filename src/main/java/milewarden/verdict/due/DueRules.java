package milewarden.verdict.due;

import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.accuracy.Engine;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Conformity;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Advice;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.DueItem.DecisionChange;
import milewarden.verdict.DueItem.Facts;
import milewarden.verdict.DueItem.Kind;
import milewarden.verdict.DueItem.Severity;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Source;
import milewarden.verdict.Threshold;
import milewarden.verdict.VerdictState;
import milewarden.verdict.figures.Deciding;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.MeanError;

/** Finds what is due: one item per cause, each with a key that stays while the cause does. */
public final class DueRules {
  private final ModelHistory history;
  private final Policy policy;
  private final List<ReleaseJudgement> releases;
  private final List<Comparison> comparisons;
  private final Advising advising;
  private final Instant now;
  private final ZoneId zone;
  private final List<DueItem> found = new ArrayList<>();

  public DueRules(
      ModelHistory history,
      Policy policy,
      List<ReleaseJudgement> releases,
      Optional<String> anchor,
      List<Comparison> comparisons,
      Instant now,
      ZoneId zone) {
    this.history = history;
    this.policy = policy;
    this.releases = releases;
    this.comparisons = comparisons;
    this.advising = new Advising(history, policy, releases, anchor);
    this.now = now;
    this.zone = zone;
  }

  public List<DueItem> find(List<SuspectRun> suspects) {
    newestTested().ifPresent(this::newerFirmware);
    newestTested().ifPresent(this::notSettled);
    decided().ifPresent(this::changed);
    // A release that another followed asks for no repeat.
    newestTested().ifPresent(r -> suspects(r.release().version(), suspects));
    Optional<PublishedVerdict> standing = history.standing();
    standing.ifPresent(this::old);
    standing.ifPresent(this::moved);
    standing.flatMap(v -> release(v.firmware())).ifPresent(r -> decisions(standing.get(), r));
    thresholds(standing);
    found.sort(Comparator.comparing(DueItem::severity).thenComparing(DueItem::key));
    return List.copyOf(found);
  }

  private Optional<ReleaseJudgement> newestTested() {
    return releases.stream().filter(ReleaseJudgement::tested).reduce((a, b) -> b);
  }

  private Optional<ReleaseJudgement> release(String version) {
    return releases.stream()
        .filter(r -> r.tested() && r.release().version().equals(version))
        .findFirst();
  }

  private void newerFirmware(ReleaseJudgement tested) {
    ReleaseJudgement newest = releases.get(releases.size() - 1);
    if (newest.tested()) return;
    String version = newest.release().version();
    Facts facts =
        new FactsOf()
            .other(tested.release().version())
            .sessions(0)
            .wanted(policy.looks().get(0).sessions())
            .date(newest.release().date())
            .facts();
    Advice advice = advising.forRelease(version, policy.looks().get(0).sessions());
    add("newer-firmware:" + version, Cause.NEWER_FIRMWARE, Severity.STALE, version, facts, advice);
  }

  private Optional<Comparison> againstAnchor(String candidate) {
    return comparisons.stream()
        .filter(c -> c.against() == Against.ANCHOR && c.candidate().equals(candidate))
        .findFirst();
  }

  private void notSettled(ReleaseJudgement tested) {
    String version = tested.release().version();
    Optional<Comparison> c = againstAnchor(version);
    if (c.isEmpty() || c.get().outcome() != Outcome.NOT_SETTLED) return;
    Comparison open = c.get();
    Facts facts = comparison(open);
    Advice advice = advising.forComparison(open);
    String key = "not-settled:" + version + ":" + open.baseline();
    add(key, Cause.COMPARISON_NOT_SETTLED, Severity.STALE, version, facts, advice, results(open));
  }

  /** The comparison with the anchor that decides: of the newest release that had a look. */
  private Optional<Comparison> decided() {
    return comparisons.stream()
        .filter(c -> c.against() == Against.ANCHOR && !c.looks().isEmpty())
        .reduce((a, b) -> b);
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
    String key =
        "comparison-"
            + c.outcome().name().toLowerCase(java.util.Locale.ROOT)
            + ":"
            + c.candidate()
            + ":"
            + c.baseline();
    add(key, cause, severity, c.candidate(), comparison(c), advising.forComparison(c), results(c));
  }

  private static Facts comparison(Comparison c) {
    FactsOf facts =
        new FactsOf()
            .other(c.baseline())
            .sessions(c.candidateSessions())
            .because(c.because())
            .source(c.source().source());
    c.estimate().ifPresent(e -> facts.percent(e.percent()).interval(e.interval()));
    c.nextLookAt().ifPresent(facts::wanted);
    return facts.facts();
  }

  private static List<Long> results(Comparison c) {
    if (!c.looks().isEmpty()) return c.looks().get(c.looks().size() - 1).candidateResults();
    return List.of();
  }

  private void suspects(String firmware, List<SuspectRun> suspects) {
    for (SuspectRun s : suspects) if (!s.repeated() && s.firmware().equals(firmware)) suspect(s);
  }

  private void suspect(SuspectRun s) {
    Facts facts =
        new FactsOf()
            .percent(s.errorPercent())
            .interval(s.interval())
            .limit(s.limitPercent())
            .course(s.condition().course())
            .source(s.source())
            .facts();
    // By outing and unit: the result's number changes when it is computed anew.
    String key = "suspect-run:" + s.session() + ":" + s.unit();
    if (found.stream().anyMatch(d -> d.key().equals(key))) return;
    Advice advice = advising.repeat(s);
    List<Long> evidence = List.of(s.resultId());
    add(key, Cause.SUSPECT_RUN, Severity.STALE, s.firmware(), facts, advice, evidence);
  }

  private void old(PublishedVerdict v) {
    if (!VerdictState.isOld(v, policy, now, zone)) return;
    Facts facts = new FactsOf().date(v.publishedAt().atZone(zone).toLocalDate()).facts();
    Advice advice = advising.forRelease(v.firmware(), policy.looks().get(0).sessions());
    add(
        "verdict-old:" + v.number(),
        Cause.VERDICT_OLD,
        Severity.STALE,
        v.firmware(),
        facts,
        advice);
  }

  /** The verdict's own runs, computed anew: by another engine, or on a re-measured course. */
  private void moved(PublishedVerdict v) {
    Optional<String> course = remeasured(v);
    boolean engine = !v.engineVersion().equals(Engine.VERSION);
    if (course.isEmpty() && !engine) return;
    List<PassEvidence> same =
        history.passesOf(v.firmware()).stream()
            .filter(
                p ->
                    v.runs().stream()
                        .anyMatch(
                            r -> r.session().equals(p.session()) && r.unit().equals(p.unit())))
            .toList();
    Evidence e = Evidence.of(v.figures().source(), same);
    if (e.isEmpty()) return;
    double mean = MeanError.of(e, Optional.empty()).mean();
    List<DecisionChange> changes =
        changes(v, Deciding.conformity(same, policy, history.otherModelsUnits()));
    if (rounded(mean) == rounded(v.figures().meanPercent()) && changes.isEmpty()) return;
    FactsOf facts =
        new FactsOf()
            .purposes(changes)
            .percent(mean - v.figures().meanPercent())
            .sessions(e.sessions().size())
            .source(e.source());
    course.ifPresent(facts::course);
    Severity severity = changes.isEmpty() ? Severity.HOUSEKEEPING : Severity.VERDICT_WRONG;
    Cause cause = course.isPresent() ? Cause.COURSE_REMEASURED : Cause.ENGINE_MOVED_RESULTS;
    String key =
        course.isPresent()
            ? "course-remeasured:" + course.get() + ":" + v.number()
            : "engine-moved:" + Engine.VERSION + ":" + v.number();
    Advice advice = advising.none();
    add(key, cause, severity, v.firmware(), facts.facts(), advice, e.resultIds());
  }

  private long rounded(double percent) {
    return Math.round(percent / policy.figureStepPercent());
  }

  private Optional<String> remeasured(PublishedVerdict v) {
    return v.courses().stream()
        .filter(
            c ->
                history.passes().stream()
                    .map(PassEvidence::condition)
                    .anyMatch(
                        k -> k.course().equals(c.slug()) && !k.courseVersion().equals(c.version())))
        .map(PublishedVerdict.CourseUsed::slug)
        .findFirst();
  }

  private void decisions(PublishedVerdict v, ReleaseJudgement release) {
    List<DecisionChange> changes = changes(v, release.conformity());
    if (changes.isEmpty()) return;
    boolean wrong = changes.stream().anyMatch(c -> passes(c.published()) != passes(c.now()));
    ReleaseFigures figures = release.pooled().orElseThrow();
    FactsOf facts =
        new FactsOf()
            .purposes(changes)
            .percent(figures.meanPercent())
            .sessions(figures.sessions())
            .source(figures.source());
    figures.interval().ifPresent(facts::interval);
    add(
        "decision-changed:" + v.number(),
        Cause.DECISION_CHANGED,
        wrong ? Severity.VERDICT_WRONG : Severity.STALE,
        v.firmware(),
        facts.facts(),
        advising.none(),
        results(release));
  }

  private static boolean passes(Decision d) {
    return d == Decision.PASS || d == Decision.CONDITIONAL_PASS;
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
    Threshold.State published =
        standing.map(PublishedVerdict::threshold).orElse(Threshold.State.UNDETERMINED);
    Optional<ReleaseJudgement> newest = newestTested();
    newest.ifPresent(r -> threshold(r, published, standing));
    Optional<ReleaseJudgement> own = standing.flatMap(v -> release(v.firmware()));
    if (!own.equals(newest)) own.ifPresent(r -> threshold(r, published, standing));
  }

  private void threshold(
      ReleaseJudgement r, Threshold.State published, Optional<PublishedVerdict> standing) {
    Threshold t = r.threshold().orElseThrow();
    boolean raised = t.state() == Threshold.State.RAISED && published != Threshold.State.RAISED;
    boolean cleared = t.state() == Threshold.State.CLEARED && published == Threshold.State.RAISED;
    if (!raised && !cleared) return;
    String version = r.release().version();
    ReleaseFigures figures = r.pooled().orElseThrow();
    FactsOf facts =
        new FactsOf()
            .percent(figures.meanPercent())
            .limit(t.limitPercent())
            .sessions(figures.sessions())
            .source(t.source().source());
    t.interval().ifPresent(facts::interval);
    boolean own = standing.filter(v -> v.firmware().equals(version)).isPresent();
    Severity severity =
        cleared ? Severity.STALE : own ? Severity.VERDICT_WRONG : Severity.REGRESSION;
    add(
        (raised ? "threshold-raised:" : "threshold-cleared:") + version,
        raised ? Cause.THRESHOLD_RAISED : Cause.THRESHOLD_CLEARED,
        severity,
        version,
        facts.facts(),
        advising.none(),
        results(r));
  }

  private static List<Long> results(ReleaseJudgement r) {
    return r.sessions().stream().flatMap(s -> s.resultIds().stream()).sorted().toList();
  }

  private void add(
      String key, Cause cause, Severity severity, String firmware, Facts facts, Advice advice) {
    add(key, cause, severity, firmware, facts, advice, List.of());
  }

  private void add(
      String key,
      Cause cause,
      Severity severity,
      String firmware,
      Facts facts,
      Advice advice,
      List<Long> evidence) {
    found.add(
        new DueItem(
            key, kind(cause), severity, cause, history.model(), firmware, facts, advice, evidence));
  }

  private static Kind kind(Cause cause) {
    return switch (cause) {
      case NEWER_FIRMWARE,
          COMPARISON_NOT_SETTLED,
          VERDICT_OLD,
          SUSPECT_RUN,
          COURSE_REMEASURED,
          ENGINE_MOVED_RESULTS ->
          Kind.RETEST_DUE;
      case DECISION_CHANGED,
          COMPARISON_WORSE,
          COMPARISON_BETTER,
          COMPARISON_CHANGED,
          THRESHOLD_RAISED,
          THRESHOLD_CLEARED ->
          Kind.VERDICT_UPDATE_DUE;
    };
  }

  /** Gathers the numbers of one item; what is not said stays empty. */
  private static final class FactsOf {
    private Optional<String> other = Optional.empty();
    private List<DecisionChange> purposes = List.of();
    private OptionalDouble percent = OptionalDouble.empty();
    private Optional<PercentRange> interval = Optional.empty();
    private OptionalDouble limit = OptionalDouble.empty();
    private OptionalInt sessions = OptionalInt.empty();
    private OptionalInt wanted = OptionalInt.empty();
    private Optional<java.time.LocalDate> date = Optional.empty();
    private Optional<String> course = Optional.empty();
    private Optional<Comparison.Because> because = Optional.empty();
    private Optional<Source> source = Optional.empty();

    FactsOf other(String firmware) {
      other = Optional.of(firmware);
      return this;
    }

    FactsOf purposes(List<DecisionChange> changes) {
      purposes = changes;
      return this;
    }

    FactsOf percent(double x) {
      percent = OptionalDouble.of(x);
      return this;
    }

    FactsOf interval(PercentRange r) {
      interval = Optional.of(r);
      return this;
    }

    FactsOf limit(double x) {
      limit = OptionalDouble.of(x);
      return this;
    }

    FactsOf sessions(int n) {
      sessions = OptionalInt.of(n);
      return this;
    }

    FactsOf wanted(int n) {
      wanted = OptionalInt.of(n);
      return this;
    }

    FactsOf date(java.time.LocalDate d) {
      date = Optional.of(d);
      return this;
    }

    FactsOf course(String slug) {
      course = Optional.of(slug);
      return this;
    }

    FactsOf because(Comparison.Because why) {
      because = Optional.of(why);
      return this;
    }

    FactsOf source(Source s) {
      source = Optional.of(s);
      return this;
    }

    Facts facts() {
      return new Facts(
          other, purposes, percent, interval, limit, sessions, wanted, date, course, because,
          source);
    }
  }
}
