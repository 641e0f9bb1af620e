package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.display.RuleFound;
import milewarden.device.Rounding;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.SmoothingWords;
import milewarden.report.Status;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.DueEntry;
import milewarden.report.page.Links;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.Strip;
import milewarden.report.pass.DisplayWords;
import milewarden.verdict.Comparison;
import milewarden.verdict.Conformity;
import milewarden.verdict.Findings;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.place.MeanLadder;

/**
 * Did the releases make it better or worse?
 *
 * @param sentence the answer
 * @param unread where it can't be judged, as a record is damaged: what to do; else empty text
 * @param figure the one figure that proves it
 * @param figureWords what the figure is
 * @param chartHeading what the chart shows, in words
 * @param releases newest first
 * @param sessions newest first: the marks of the chart as a table
 * @param allSessions how many there are, where these are not all; else empty text
 * @param sessionsLink to all of them
 */
public record ModelPage(
    String name,
    String sentence,
    String unread,
    String figure,
    String figureWords,
    Optional<Status> verdict,
    String verdictWords,
    String draftLink,
    ModelChart chart,
    String chartHeading,
    String chartCaption,
    Optional<LaddersChart> ladders,
    List<CusumChart> cusums,
    String planLink,
    String sheetLink,
    List<ReleaseRow> releases,
    List<ConditionRow> conditions,
    List<ModelSessionsPage.Row> sessions,
    String allSessions,
    String sessionsLink,
    List<DueEntry> due,
    List<VerdictLine> verdicts,
    List<DisplayLine> displays,
    List<String> notes) {
  public ModelPage {
    cusums = List.copyOf(cusums);
    releases = List.copyOf(releases);
    conditions = List.copyOf(conditions);
    sessions = List.copyOf(sessions);
    due = List.copyOf(due);
    verdicts = List.copyOf(verdicts);
    displays = List.copyOf(displays);
    notes = List.copyOf(notes);
  }

  /** A release on one line. */
  public record ReleaseRow(
      String version,
      String date,
      String mean,
      Optional<Strip> strip,
      String nextRun,
      String spread,
      String basis,
      List<Purpose> purposes,
      Optional<Status> change,
      String changeWords,
      String changeLink,
      boolean anchor,
      String reportLink) {
    public ReleaseRow {
      purposes = List.copyOf(purposes);
    }
  }

  /** Whether a release is good enough for a purpose. */
  public record Purpose(String name, Status decision) {}

  /** The newest tested release in one condition. */
  public record ConditionRow(String condition, String mean, Optional<Strip> strip, String basis) {}

  /**
   * What is found of a display's rule.
   *
   * @param proposal what can be told about recordings whose rule is not known; empty where nothing
   * @param action where its form goes
   * @param step the display's, as the form sends it back
   * @param rounding the word of the field sheet; empty with the proposal
   */
  public record DisplayLine(
      String sentence, String proposal, String action, String step, String rounding) {
    /**
     * @param stepM the display's step, metres
     * @param unknown recordings whose rule is not known
     */
    public static DisplayLine of(
        long model, double stepM, RuleFound found, int unknown, Digits digits) {
      return new DisplayLine(
          DisplayWords.sentence(stepM, found, digits),
          DisplayWords.proposal(found, unknown, digits),
          "/models/" + model + "/display",
          Double.toString(stepM),
          found.said().flatMap(DisplayWords::rounding).map(Rounding::code).orElse(""));
    }
  }

  /** A published verdict on one line. */
  public record VerdictLine(
      String link, String number, String firmware, String date, Status state, String words) {}

  /**
   * The page of a model.
   *
   * @param excerpt with those of its sessions that are shown
   * @param control true where all its units are controls, whose firmware is left alone
   * @param stopped true where it can't be judged, as a record is damaged
   * @param ladders of its releases, in any order
   */
  public static ModelPage of(
      long id,
      ModelExcerpt excerpt,
      boolean control,
      boolean stopped,
      List<MeanLadder> ladders,
      Policy policy,
      List<DueEntry> due,
      List<VerdictLine> verdicts,
      List<DisplayLine> displays,
      Digits digits) {
    ModelJudgement judged = excerpt.judged();
    Optional<ReleaseJudgement> newest = newestTested(judged);
    ConditionNames names = ConditionNames.of(excerpt.conditions());
    ModelChart chart = ModelChart.of(id, excerpt, policy, digits);
    return new ModelPage(
        judged.model(),
        control ? ModelSentence.CONTROL : ModelSentence.of(judged, policy, digits),
        stopped ? DamageWords.notJudged(judged.model()) : "",
        newest.map(r -> ReleaseWords.mean(r, digits)).orElse(Digits.NOT_TESTED),
        newest.map(r -> figureWords(r, digits)).orElse("no session counts yet"),
        judged.verdict().map(v -> JudgedWords.of(v.state())),
        judged
            .verdict()
            .map(v -> "verdict " + v.number() + " on " + v.firmware())
            .orElse("No verdict is published."),
        newest.map(r -> Links.verdictDraft(id, r.release().version())).orElse(""),
        chart,
        "Signed error of " + judged.model() + " over its releases",
        caption(excerpt, policy, digits),
        LaddersChart.of(ladders, judged, digits),
        CusumChart.of(judged, policy, digits),
        Links.plan(id),
        Links.sheet(id),
        rows(id, judged, policy, digits),
        newest.map(r -> conditionRows(r, names, policy, digits)).orElse(List.of()),
        ModelSessionsPage.rows(judged, names, digits),
        excerpt.newest() > 0 ? digits.counted(excerpt.all(), "session") : "",
        Links.sessions(id),
        due,
        verdicts,
        displays,
        notes(judged, newest, names, digits));
  }

  public static Optional<ReleaseJudgement> newestTested(ModelJudgement judged) {
    return newestTested(judged.releases());
  }

  /** The same of releases in order. */
  public static <R extends Findings.OfRelease> Optional<R> newestTested(List<R> releases) {
    return releases.stream().filter(Findings.OfRelease::tested).reduce((first, second) -> second);
  }

  private static String figureWords(ReleaseJudgement r, Digits digits) {
    String basis = r.pooled().map(f -> digits.sessions(f.sessions())).orElse("");
    return "mean error of " + r.release().version() + ", " + basis;
  }

  private static String caption(ModelExcerpt excerpt, Policy policy, Digits digits) {
    String sessions = digits.counted(excerpt.all(), "session");
    String source =
        newestTested(excerpt.judged())
            .flatMap(ReleaseJudgement::source)
            .map(s -> ", from " + JudgedWords.of(s.source()))
            .orElse("");
    return "Open marks: "
        + (excerpt.newest() > 0
            ? "the newest "
                + digits.count(excerpt.newest())
                + " of each release, of "
                + sessions
                + " in all"
            : sessions)
        + source
        + "; shape and colour are the condition. Lozenge: mean with its 95 % interval; thin line:"
        + " next run, 95 %. Bands: limits of the purposes on the mean error. A change of "
        + digits.pointsSize(policy.materialChangePercent())
        + " is material.";
  }

  private static List<ReleaseRow> rows(
      long id, ModelJudgement judged, Policy policy, Digits digits) {
    double scale = Strip.scaleOf(judged);
    List<ReleaseRow> rows = new ArrayList<>();
    for (ReleaseJudgement r : judged.releases())
      rows.add(0, row(id, r, judged, policy, scale, digits));
    return rows;
  }

  private static ReleaseRow row(
      long id,
      ReleaseJudgement r,
      ModelJudgement judged,
      Policy policy,
      double scale,
      Digits digits) {
    String version = r.release().version();
    Optional<Comparison> change = ModelChart.deciding(judged, version);
    return new ReleaseRow(
        version,
        digits.date(r.release().date()) + (r.release().assumed() ? ", assumed" : ""),
        ReleaseWords.mean(r, digits),
        Strip.of(r, policy, scale, digits),
        ReleaseWords.nextRun(r, digits),
        r.pooled().map(f -> ReleaseWords.spread(f, digits)).orElse(Digits.NOT_TESTED),
        basis(r, policy, digits),
        purposes(r),
        change.map(c -> JudgedWords.of(c.outcome())),
        change.map(c -> ComparisonWords.change(c, digits) + " on " + c.baseline()).orElse(""),
        change.map(c -> Links.comparison(id, c.candidate(), c.baseline())).orElse(""),
        judged.anchor().filter(version::equals).isPresent(),
        Links.report(id, version));
  }

  private static String basis(ReleaseJudgement r, Policy policy, Digits digits) {
    String excluded =
        r.excludedPasses() > 0
            ? ", " + digits.counted(r.excludedPasses(), "pass") + " left out"
            : "";
    String waits = ReleaseWords.waiting(r, digits).map(w -> "; " + w).orElse("");
    String left = excluded + ReliabilityWords.of(r, digits) + waits;
    String basis = r.pooled().map(f -> ReleaseWords.basis(f, digits)).orElse(Digits.NOT_TESTED);
    return ReleaseWords.missing(r, policy, digits)
        .filter(m -> r.tested())
        .map(m -> basis + left + "; " + m)
        .orElse(basis + left);
  }

  public static List<Purpose> purposes(Findings.OfRelease r) {
    if (ReleaseWords.decidedLater(r))
      return List.of(
          new Purpose("any purpose", Status.watch("waiting for the rest of the session")));
    List<Purpose> each =
        r.conformity().stream()
            .map(c -> new Purpose(JudgedWords.purpose(c.purpose().code()), decision(c)))
            .toList();
    boolean undecided = r.conformity().stream().noneMatch(c -> c.decision().decided());
    long words = each.stream().map(Purpose::decision).distinct().count();
    // Three times the same 'insufficient evidence' says it once.
    return undecided && words == 1
        ? List.of(new Purpose("any purpose", each.get(0).decision()))
        : each;
  }

  private static Status decision(Conformity c) {
    return JudgedWords.of(c.decision());
  }

  private static List<ConditionRow> conditionRows(
      ReleaseJudgement r, ConditionNames names, Policy policy, Digits digits) {
    double scale = Strip.scaleOf(r.byCondition());
    return r.byCondition().stream()
        .map(
            f ->
                new ConditionRow(
                    f.condition().map(names::of).orElse("all conditions"),
                    ReleaseWords.mean(f, digits),
                    Strip.of(f, policy, scale, digits),
                    ReleaseWords.basis(f, digits)))
        .toList();
  }

  private static List<String> notes(
      ModelJudgement judged,
      Optional<ReleaseJudgement> newest,
      ConditionNames names,
      Digits digits) {
    List<String> notes = new ArrayList<>();
    newest
        .flatMap(ReleaseJudgement::pooled)
        .ifPresent(
            f -> {
              if (f.oppositeSigns())
                notes.add(
                    "The conditions' mean errors differ in sign: the pooled mean hides that.");
              if (f.theseUnitsOnly())
                notes.add("Few units were tested: the figures hold for these units only.");
            });
    judged.smoothing().stream()
        .filter(SmoothingChange::changed)
        .forEach(s -> notes.add(SmoothingWords.sentence(s, digits)));
    if (!names.shared().isEmpty()) notes.add("All sessions: " + names.shared() + ".");
    if (judged.anchor().isPresent())
      notes.add("Releases are held against the anchor, " + judged.anchor().get() + ".");
    return notes;
  }
}
