package milewarden.verdict.judging;

import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.accuracy.Engine;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Conformity;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelHistory.Release;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ModelJudgement.Monitoring;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.ModelJudgement.VerdictNow;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.Purpose;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.ReleaseJudgement.Waiting;
import milewarden.verdict.Reliability;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.Source;
import milewarden.verdict.VerdictState;
import milewarden.verdict.comparing.Comparing;
import milewarden.verdict.comparing.Gathered;
import milewarden.verdict.due.DueList;
import milewarden.verdict.due.Known;
import milewarden.verdict.figures.Deciding;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;

/** Judges one model from all its measured passes: pure, deterministic, in milliseconds. */
public final class Judge {
  private final ModelHistory history;
  private final Policy policy;
  private final Instant now;
  private final ZoneId zone;
  private final Gathered gathered;
  private final Purpose limit;
  private final List<SuspectRun> suspects = new ArrayList<>();
  private final List<Monitoring> monitoring = new ArrayList<>();
  private final Set<String> controlled;

  private Judge(ModelHistory history, Policy policy, Instant now, ZoneId zone) {
    this.history = history;
    this.policy = policy;
    this.now = now;
    this.zone = zone;
    this.gathered = new Gathered(history, policy);
    this.limit = limit(history, policy);
    this.controlled =
        history.controlPasses().stream().map(PassEvidence::session).collect(Collectors.toSet());
  }

  /**
   * The judgement as of {@code now}.
   *
   * @param zone in which a verdict's age is counted
   */
  public static ModelJudgement judge(
      ModelHistory history, Policy policy, Instant now, ZoneId zone) {
    return new Judge(history, policy, now, zone).judge();
  }

  /** From the release with the most sessions in which two units or more were carried. */
  private Optional<UnitVariance> unitVariance() {
    return history.releases().stream()
        .map(r -> gathered.evidence(r.release().version()))
        .filter(e -> e.units().size() >= 2)
        .max(Comparator.comparingInt(e -> e.sessions().size()))
        .flatMap(FigureSheet::ownUnitVariance);
  }

  /** The purpose whose limit the threshold takes: the strictest that the verdict claims. */
  static Purpose limit(ModelHistory history, Policy policy) {
    return limit(history.standing().map(PublishedVerdict::decisions).orElse(List.of()), policy);
  }

  /** The strictest purpose that is claimed; without any, training. */
  static Purpose limit(List<Conformity> decisions, Policy policy) {
    Optional<Purpose> claimed =
        decisions.stream()
            .filter(c -> c.decision() == Decision.PASS || c.decision() == Decision.CONDITIONAL_PASS)
            .map(Conformity::purpose)
            .min(Comparator.comparingDouble(Purpose::meanLimitPercent));
    return claimed
        .map(p -> policy.purpose(p.code()).orElse(p))
        .or(() -> policy.purpose("training"))
        .orElseGet(policy::widest);
  }

  private ModelJudgement judge() {
    List<ReleaseJudgement> releases = history.releases().stream().map(this::release).toList();
    monitoring.addAll(new Watching(history, policy).controls());
    suspects.sort(Comparator.comparing(SuspectRun::start).thenComparing(SuspectRun::resultId));
    Optional<String> anchor = anchor(releases);
    List<Comparison> comparisons = comparisons(releases, anchor);
    List<SmoothingChange> smoothing = Smoothing.of(history, releases, comparisons, policy, now);
    List<DueItem> due =
        DueList.of(
            new Known(
                history, policy, releases, anchor, comparisons, smoothing, suspects, now, zone));
    return new ModelJudgement(
        history.model(),
        now,
        Engine.VERSION,
        releases,
        anchor,
        comparisons,
        suspects,
        monitoring,
        due,
        verdictNow(due),
        unitVariance(),
        CourseBiases.of(history.controlPasses(), policy),
        smoothing);
  }

  private Optional<VerdictNow> verdictNow(List<DueItem> due) {
    if (history.verdicts().isEmpty()) return Optional.empty();
    ModelHistory.VerdictOnRecord newest = history.verdicts().get(history.verdicts().size() - 1);
    PublishedVerdict v = newest.verdict();
    return Optional.of(
        new VerdictNow(
            v.number(), v.firmware(), VerdictState.of(newest, history, due, policy, now, zone)));
  }

  private ReleaseJudgement release(Release known) {
    String version = known.release().version();
    List<PassEvidence> passes = gathered.passesOf(version);
    int excluded = (int) passes.stream().filter(p -> p.exclusion().isPresent()).count();
    Source.Choice source = Source.choose(List.of(passes), limit.meanLimitPercent(), policy);
    Evidence e = gathered.evidence(version, source.source());
    int without = passes.size() - excluded - e.passes().size();
    if (e.isEmpty())
      return new ReleaseJudgement(
          known.release(),
          known.firstSeen(),
          Optional.empty(),
          Optional.empty(),
          List.of(),
          List.of(),
          List.of(),
          Optional.empty(),
          excluded,
          without,
          reliability(version),
          Optional.empty());
    Optional<UnitVariance> others = history.otherModelsUnits();
    WholePart part = WholePart.of(passes, history, policy, now);
    Evidence whole = part.until().isEmpty() ? e : Evidence.of(source.source(), part.passes());
    Watching watching = new Watching(history, policy);
    suspects.addAll(watching.suspects(version, e, limit));
    watching.monitoring(version, false, e).ifPresent(monitoring::add);
    return new ReleaseJudgement(
        known.release(),
        known.firstSeen(),
        Optional.of(source),
        Optional.of(FigureSheet.of(e, Optional.empty(), policy, others)),
        e.conditions().stream()
            .map(c -> FigureSheet.of(e.in(List.of(c)), Optional.of(c), policy, others))
            .toList(),
        e.sessions().stream().map(this::withControl).toList(),
        whole.isEmpty()
            ? Deciding.undecided(source, policy)
            : Deciding.conformity(part.passes(), whole, policy, others),
        Optional.of(Deciding.threshold(whole, limit, source, policy, others)),
        excluded,
        without,
        reliability(version),
        part.until().map(until -> waiting(until, whole)));
  }

  private Waiting waiting(Instant until, Evidence whole) {
    return new Waiting(
        until,
        whole.isEmpty()
            ? Optional.empty()
            : Optional.of(
                FigureSheet.of(whole, Optional.empty(), policy, history.otherModelsUnits())),
        whole.resultIds());
  }

  private Optional<Reliability> reliability(String version) {
    return history.reliability().stream().filter(r -> r.firmware().equals(version)).findFirst();
  }

  private SessionFigure withControl(SessionFigure s) {
    return new SessionFigure(
        s.session(),
        s.start(),
        s.date(),
        s.meanPercent(),
        s.range(),
        s.conditions(),
        s.units(),
        s.passes(),
        s.resultIds(),
        controlled.contains(s.session()));
  }

  /** The release of the standing verdict; without one, the first with sessions enough. */
  private Optional<String> anchor(List<ReleaseJudgement> releases) {
    Optional<String> published =
        history
            .standing()
            .map(PublishedVerdict::firmware)
            .filter(
                f ->
                    releases.stream().anyMatch(r -> r.tested() && r.release().version().equals(f)));
    return published.or(
        () ->
            releases.stream()
                .filter(r -> r.sessions().size() >= policy.insufficientSessions())
                .map(r -> r.release().version())
                .findFirst());
  }

  private List<Comparison> comparisons(List<ReleaseJudgement> releases, Optional<String> anchor) {
    List<Comparison> all = new ArrayList<>();
    Optional<String> previous = Optional.empty();
    boolean pastAnchor = false;
    for (ReleaseJudgement r : releases) {
      if (!r.tested()) continue;
      String version = r.release().version();
      if (pastAnchor) all.add(compare(version, anchor.orElseThrow(), Against.ANCHOR));
      if (previous.isPresent() && !(pastAnchor && previous.equals(anchor)))
        all.add(compare(version, previous.get(), Against.PREVIOUS));
      pastAnchor |= anchor.isPresent() && version.equals(anchor.get());
      previous = Optional.of(version);
    }
    return all;
  }

  private Comparison compare(String candidate, String baseline, Against against) {
    return new Comparing(candidate, baseline, against, gathered, now).compare();
  }
}
