package milewarden.cli.kept;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.LookWords;
import milewarden.report.SmoothingWords;
import milewarden.report.SpreadWords;
import milewarden.report.Words;
import milewarden.report.answer.ComparisonAnswer;
import milewarden.review.ModelNamed;
import milewarden.review.Origins;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Models;
import milewarden.verdict.Comparison;
import milewarden.verdict.Look;
import milewarden.verdict.ModelJudgement;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** A release held against an earlier one, as the model was last judged. */
@Command(
    name = "compare",
    mixinStandardHelpOptions = true,
    description = "Compares a release with an earlier one; exit code 1 where it is worse.")
public final class CompareCommand implements Callable<Integer> {
  private final Workshop workshop;
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(names = "--model", required = true, paramLabel = "M", description = "the model's name")
  private String model = "";

  @Option(
      names = "--firmware",
      required = true,
      paramLabel = "A",
      description = "the release in question")
  private String firmware = "";

  @Option(
      names = "--against",
      required = true,
      paramLabel = "B",
      description = "the earlier release: the anchor, or the tested one before")
  private String against = "";

  @Option(names = "--json", description = "one JSON document")
  private boolean json;

  public CompareCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  @Override
  public Integer call() {
    try (Tools tools = workshop.open(places)) {
      ModelJudgement judgement = judgement(tools);
      Comparison comparison = comparison(judgement);
      PrintWriter out = spec.commandLine().getOut();
      if (json) out.println(AnswerJson.of(answer(tools, judgement, comparison)));
      else print(judgement, comparison, tools.digits(), out);
      return comparison.outcome() == Comparison.Outcome.WORSE ? Exit.FINDINGS : Exit.DONE;
    }
  }

  private ComparisonAnswer answer(Tools tools, ModelJudgement judged, Comparison comparison) {
    return tools
        .database()
        .read(
            tx ->
                ComparisonAnswer.of(judged, comparison)
                    .with(
                        Models.find(tx, judged.model())
                            .map(m -> Origins.strips(tx, m.id(), comparison))
                            .orElse(List.of())));
  }

  private ModelJudgement judgement(Tools tools) {
    ModelNamed named = tools.database().read(tx -> ModelNamed.beginning(tx, model));
    Models.Model known = named.model().orElseThrow(() -> wrong(named.sentence()));
    return tools
        .database()
        .<Optional<ModelJudgement>>read(tx -> Judgements.find(tx, known.id()))
        .orElseThrow(() -> wrong(known.name() + " was not judged yet; run a session with it"));
  }

  private Comparison comparison(ModelJudgement judgement) {
    return judgement.comparisons().stream()
        .filter(c -> c.candidate().equals(firmware) && c.baseline().equals(against))
        .findFirst()
        .orElseThrow(
            () -> wrong(firmware + " is not compared with " + against + "; " + known(judgement)));
  }

  private static String known(ModelJudgement judgement) {
    if (judgement.comparisons().isEmpty()) return "nothing is compared yet";
    return "compared are "
        + Words.list(
            judgement.comparisons().stream()
                .map(c -> c.candidate() + " with " + c.baseline())
                .toList());
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }

  private static void print(ModelJudgement judged, Comparison c, Digits digits, PrintWriter out) {
    StringBuilder text = new StringBuilder();
    text.append(judged.model() + " " + c.candidate() + " against " + c.baseline() + ": ");
    text.append(JudgedWords.of(c.outcome()).word() + ", because " + JudgedWords.of(c.because()));
    SpreadWords.of(c, digits).ifPresent(s -> text.append(".\n" + Words.capital(s)));
    text.append(".\nDifference: ");
    text.append(
        c.estimate()
            .map(
                e ->
                    digits.points(e.percent())
                        + " (95 %: "
                        + digits.pointsInterval(e.interval().low(), e.interval().high())
                        + ")")
            .orElse("not known"));
    text.append(", by " + JudgedWords.of(c.source().source()));
    text.append(
        ".\nSessions: " + c.candidateSessions() + " against " + c.baselineSessions() + ".\n");
    if (c.minimumDetectableChangePercent().isPresent())
      text.append(
          "Smallest change that would be found: "
              + digits.pointsSize(c.minimumDetectableChangePercent().getAsDouble())
              + ".\n");
    text.append(
        c.lookWaitsUntil().isPresent()
            ? LookWords.waits(c, digits)
            : c.nextLookAt().isPresent()
                ? "Next look at " + digits.sessions(c.nextLookAt().getAsInt()) + "."
                : "The last look was taken.");
    if (c.sessionsNeeded().isPresent() && c.sessionsNeeded().getAsInt() > 0)
      text.append(
          "\nStill needed: "
              + digits.sessions(c.sessionsNeeded().getAsInt())
              + " of "
              + c.candidate()
              + ".");
    for (Comparison.OfCondition each : c.conditions())
      text.append("\n  " + condition(each, digits));
    for (Look look : c.looks()) text.append("\n  " + look(look, digits));
    for (Comparison.Caution each : c.cautions()) text.append("\n  " + JudgedWords.of(each));
    judged
        .smoothingOf(c.candidate())
        .ifPresent(s -> text.append("\n  " + SmoothingWords.sentence(s, digits)));
    out.println(text.toString().replace('\u00a0', ' '));
  }

  private static String condition(Comparison.OfCondition c, Digits digits) {
    return JudgedWords.of(c.condition())
        + ": "
        + c.estimate()
            .map(e -> digits.pointsInterval(e.interval().low(), e.interval().high()))
            .orElse("no interval yet")
        + ", "
        + c.candidateSessions()
        + " against "
        + digits.sessions(c.baselineSessions())
        + ".";
  }

  private static String look(Look l, Digits digits) {
    return "Look "
        + l.number()
        + " at "
        + digits.sessions(l.sessions())
        + JudgedWords.again(l)
        + ": "
        + JudgedWords.of(l.outcome()).word()
        + ", p "
        + digits.probability(l.estimate().p())
        + " against "
        + digits.probability(l.alpha())
        + ".";
  }
}
