package milewarden.report.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.RunnerWords;
import milewarden.report.Status;
import milewarden.report.Words;
import milewarden.units.PercentRange;
import milewarden.verdict.Conformity;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;

/** One published record, as it stands in public. */
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
    List<RunPage.Line> figures,
    List<String> runner,
    List<RunPage.Line> rests,
    List<String> limits,
    String replaces,
    boolean mayWithdraw,
    String refusal) {
  public VerdictPage {
    purposes = List.copyOf(purposes);
    figures = List.copyOf(figures);
    runner = List.copyOf(runner);
    rests = List.copyOf(rests);
    limits = List.copyOf(limits);
  }

  /** The page of a published verdict in its state of today. */
  public static VerdictPage of(
      long modelId,
      PublishedVerdict v,
      Status state,
      boolean mayWithdraw,
      String refusal,
      Digits digits) {
    ReleaseFigures f = v.figures();
    return new VerdictPage(
        modelId,
        v.number(),
        v.model(),
        Links.model(modelId),
        v.firmware(),
        state,
        digits.date(v.publishedAt()),
        v.words(),
        ReleaseWords.mean(f, digits),
        "mean error, " + ReleaseWords.basis(f, digits) + ", from " + JudgedWords.of(f.source()),
        v.decisions().stream().map(VerdictPage::purpose).toList(),
        figures(v, digits),
        RunnerWords.of(f.interval().orElse(PercentRange.exactly(f.meanPercent())), digits),
        rests(v, digits),
        limits(v),
        v.replaces()
            .map(r -> "It replaces verdict " + r.number() + ": " + JudgedWords.of(r.reason()) + ".")
            .orElse(""),
        mayWithdraw,
        refusal);
  }

  private static ModelPage.Purpose purpose(Conformity c) {
    return new ModelPage.Purpose(
        JudgedWords.purpose(c.purpose().code()), JudgedWords.of(c.decision()));
  }

  private static List<RunPage.Line> figures(PublishedVerdict v, Digits digits) {
    List<RunPage.Line> lines = new ArrayList<>();
    VerdictDraftPage.add(lines, v.figures(), "", digits);
    ConditionNames names =
        ConditionNames.of(
            v.figuresByCondition().stream().flatMap(f -> f.condition().stream()).toList());
    for (ReleaseFigures f : v.figuresByCondition())
      lines.add(
          new RunPage.Line(
              f.condition().map(names::of).orElse("all"),
              ReleaseWords.mean(f, digits),
              ReleaseWords.basis(f, digits)));
    return lines;
  }

  private static List<RunPage.Line> rests(PublishedVerdict v, Digits digits) {
    List<RunPage.Line> lines = new ArrayList<>();
    lines.add(new RunPage.Line("units", String.join(", ", v.units()), ""));
    lines.add(new RunPage.Line("passes", digits.count(v.runs().size()), "with their hashes"));
    for (PublishedVerdict.CourseUsed c : v.courses())
      lines.add(new RunPage.Line("course", c.slug(), "version " + shortHash(c.version())));
    lines.add(new RunPage.Line("method", "engine version " + v.engineVersion(), ""));
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
  public static Status state(
      boolean withdrawn, boolean newest, Optional<milewarden.verdict.VerdictState> judged) {
    if (withdrawn) return JudgedWords.of(milewarden.verdict.VerdictState.WITHDRAWN);
    if (!newest) return JudgedWords.of(milewarden.verdict.VerdictState.SUPERSEDED);
    return JudgedWords.of(judged.orElse(milewarden.verdict.VerdictState.CURRENT));
  }
}
