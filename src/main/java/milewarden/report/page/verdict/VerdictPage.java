package milewarden.report.page.verdict;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.RunnerWords;
import milewarden.report.Status;
import milewarden.report.Words;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.Fact;
import milewarden.report.page.Links;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.model.ModelPage;
import milewarden.units.PercentRange;
import milewarden.verdict.Conformity;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.VerdictState;

/**
 * One published record, as it stands in public.
 *
 * @param plan of its campaign and what was done otherwise, as it stood when it was published
 */
public record VerdictPage(
    long modelId,
    int number,
    String model,
    String modelLink,
    String firmware,
    Status state,
    String published,
    String words,
    String figure,
    String figureWords,
    List<ModelPage.Purpose> purposes,
    List<Fact> figures,
    List<String> runner,
    List<Fact> rests,
    List<String> limits,
    Optional<PlanPage.PlanPart> plan,
    String replaces,
    String stateWords,
    List<Fact> record,
    String capsule,
    String draft,
    boolean mayWithdraw,
    String refusal) {
  public VerdictPage {
    purposes = List.copyOf(purposes);
    figures = List.copyOf(figures);
    runner = List.copyOf(runner);
    rests = List.copyOf(rests);
    limits = List.copyOf(limits);
    record = List.copyOf(record);
  }

  /**
   * What became of a verdict since it was published.
   *
   * @param by who published it
   * @param state of today
   * @param replacedBy the verdict that took its place
   * @param capsule true where its figures can be found again from an archive
   */
  public record Fate(
      String by,
      VerdictState state,
      Optional<Successor> replacedBy,
      Optional<TakenBack> takenBack,
      boolean capsule) {}

  /**
   * The verdict that took the place of another.
   *
   * @param reason why; empty where its record can't be read
   */
  public record Successor(
      int number, String firmware, Instant at, Optional<PublishedVerdict.Reason> reason) {}

  /** A verdict taken back: when, by whom and with what words. */
  public record TakenBack(Instant at, String by, String words) {}

  /** The page of a published verdict in its state of today. */
  public static VerdictPage of(
      long modelId, PublishedVerdict v, Fate fate, Policy policy, String refusal, Digits digits) {
    ReleaseFigures f = v.figures();
    return new VerdictPage(
        modelId,
        v.number(),
        v.model(),
        Links.model(modelId),
        v.firmware(),
        JudgedWords.of(fate.state()),
        digits.date(v.publishedAt()),
        v.words(),
        ReleaseWords.mean(f, digits),
        "mean error, " + ReleaseWords.basis(f, digits) + ", from " + JudgedWords.of(f.source()),
        v.decisions().stream().map(VerdictPage::purpose).toList(),
        figures(v, digits),
        RunnerWords.of(f.interval().orElse(PercentRange.exactly(f.meanPercent())), digits),
        rests(v, digits),
        limits(v),
        v.plan().map(p -> PlanPage.part(p, List.of(), digits)),
        v.replaces()
            .map(r -> "It replaces verdict " + r.number() + ": " + JudgedWords.of(r.reason()) + ".")
            .orElse(""),
        JudgedWords.sentence(fate.state(), policy, digits),
        record(v, fate, digits),
        fate.capsule() ? Links.verdict(modelId, v.number()) + "/capsule.zip" : "",
        fate.replacedBy().isEmpty() ? Links.verdictDraft(modelId, v.firmware()) : "",
        fate.takenBack().isEmpty(),
        refusal);
  }

  /** Who did what when, and why: nothing of it is ever changed. */
  private static List<Fact> record(PublishedVerdict v, Fate fate, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    v.replaces()
        .ifPresent(
            r ->
                lines.add(
                    new Fact(
                        "took the place of", "verdict " + r.number(), JudgedWords.of(r.reason()))));
    lines.add(new Fact("published", digits.moment(v.publishedAt()), "by " + fate.by()));
    fate.takenBack()
        .ifPresent(
            t ->
                lines.add(
                    new Fact(
                        "withdrawn", digits.moment(t.at()), "by " + t.by() + ": " + t.words())));
    fate.replacedBy()
        .ifPresent(
            n ->
                lines.add(
                    new Fact(
                        "replaced",
                        digits.moment(n.at()),
                        "by verdict "
                            + n.number()
                            + " on "
                            + n.firmware()
                            + n.reason().map(r -> ": " + JudgedWords.of(r)).orElse(""))));
    return lines;
  }

  private static ModelPage.Purpose purpose(Conformity c) {
    return new ModelPage.Purpose(
        JudgedWords.purpose(c.purpose().code()), JudgedWords.of(c.decision()));
  }

  private static List<Fact> figures(PublishedVerdict v, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    VerdictDraftPage.add(lines, v.figures(), "", digits);
    ConditionNames names =
        ConditionNames.of(
            v.figuresByCondition().stream().flatMap(f -> f.condition().stream()).toList());
    for (ReleaseFigures f : v.figuresByCondition())
      lines.add(
          new Fact(
              f.condition().map(names::of).orElse("all"),
              ReleaseWords.mean(f, digits),
              ReleaseWords.basis(f, digits)));
    return lines;
  }

  private static List<Fact> rests(PublishedVerdict v, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    lines.add(new Fact("units", String.join(", ", v.units()), ""));
    lines.add(new Fact("passes", digits.count(v.runs().size()), "with their hashes"));
    for (PublishedVerdict.CourseUsed c : v.courses())
      lines.add(new Fact("course", c.slug(), "version " + shortHash(c.version())));
    lines.add(new Fact("method", "engine version " + v.engineVersion(), ""));
    return lines;
  }

  private static String shortHash(String version) {
    return version.substring(0, Math.min(12, version.length()));
  }

  private static List<String> limits(PublishedVerdict v) {
    List<String> limits = new ArrayList<>();
    limits.add(Words.SCOPE);
    if (v.theseUnitsOnly()) limits.add("Few units were tested: it says nothing of other units.");
    limits.addAll(Words.CAUTIONS);
    return limits;
  }

  /** The state of a verdict; the newest that stands has the judge's, an older one is superseded. */
  public static VerdictState state(
      boolean withdrawn, boolean newest, Optional<VerdictState> judged) {
    if (withdrawn) return VerdictState.WITHDRAWN;
    if (!newest) return VerdictState.SUPERSEDED;
    return judged.orElse(VerdictState.CURRENT);
  }
}
