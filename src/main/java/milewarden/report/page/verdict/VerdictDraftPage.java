package milewarden.report.page.verdict;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.Words;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.Fact;
import milewarden.report.page.Links;
import milewarden.report.page.Option;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.model.ModelPage;
import milewarden.units.PercentRange;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.VerdictState;

/**
 * The figures beside the words, before they are published.
 *
 * @param replaces the verdict that this one would replace; empty text where none
 * @param refusal why it can't be published yet; empty text where it can
 * @param plan the campaign's plan and what was done otherwise, where one was made
 */
public record VerdictDraftPage(
    long modelId,
    String model,
    String modelLink,
    String firmware,
    String sentence,
    String figure,
    String figureWords,
    List<ModelPage.Purpose> purposes,
    List<Fact> figures,
    List<String> runner,
    String scope,
    String words,
    String replaces,
    List<Option> reasons,
    String refusal,
    Optional<PlanPage.PlanPart> plan) {
  public VerdictDraftPage {
    purposes = List.copyOf(purposes);
    figures = List.copyOf(figures);
    runner = List.copyOf(runner);
    reasons = List.copyOf(reasons);
  }

  /** The draft of a verdict on a tested release. */
  public static VerdictDraftPage of(
      long modelId,
      Findings judged,
      Findings.OfRelease r,
      Policy policy,
      String words,
      String refusal,
      Optional<PlanPage.PlanPart> plan,
      Digits digits) {
    Optional<String> missing = ReleaseWords.missing(r, policy, digits);
    return new VerdictDraftPage(
        modelId,
        judged.model(),
        Links.model(modelId),
        r.release().version(),
        "A verdict on " + judged.model() + ", firmware " + r.release().version(),
        ReleaseWords.mean(r, digits),
        missing.orElse(
            "mean error, " + r.pooled().map(f -> ReleaseWords.basis(f, digits)).orElse("")),
        ModelPage.purposes(r),
        figures(r, digits),
        r.pooled()
            .map(f -> f.interval().orElse(PercentRange.exactly(f.meanPercent())))
            .map(e -> milewarden.report.RunnerWords.of(e, digits))
            .orElse(List.of()),
        Words.SCOPE,
        words,
        judged
            .verdict()
            .filter(v -> v.state() != VerdictState.WITHDRAWN)
            .map(v -> "verdict " + v.number() + " on " + v.firmware())
            .orElse(""),
        java.util.Arrays.stream(PublishedVerdict.Reason.values())
            .map(reason -> new Option(reason.name(), JudgedWords.of(reason)))
            .toList(),
        refusal,
        plan);
  }

  private static List<Fact> figures(Findings.OfRelease r, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    r.pooled().ifPresent(f -> add(lines, f, "", digits));
    ConditionNames names =
        ConditionNames.of(r.byCondition().stream().flatMap(f -> f.condition().stream()).toList());
    for (ReleaseFigures f : r.byCondition())
      lines.add(
          new Fact(
              f.condition().map(names::of).orElse("all"),
              ReleaseWords.mean(f, digits),
              ReleaseWords.basis(f, digits)));
    return lines;
  }

  static void add(List<Fact> lines, ReleaseFigures f, String name, Digits digits) {
    lines.add(
        new Fact(name + "mean error", ReleaseWords.mean(f, digits), ReleaseWords.basis(f, digits)));
    lines.add(
        new Fact(
            name + "next run",
            f.nextRun().map(digits::interval).orElse("not known yet"),
            "95 % prediction interval of one pass"));
    lines.add(
        new Fact(
            name + "spread between sessions",
            ReleaseWords.spread(f, digits),
            "standard deviation"));
  }
}
