package milewarden.cli.kept;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.cli.CommandGroup;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.report.Digits;
import milewarden.report.PlanWords;
import milewarden.report.page.verdict.PlanPage;
import milewarden.review.ModelNamed;
import milewarden.review.Planning;
import milewarden.store.run.Models;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.CampaignPlan.Planned;
import milewarden.verdict.plan.Needed;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;

/** Plans a campaign before its first file, and shows what became of the plan. */
@Command(
    name = "plan",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Plans a campaign: what it needs, what is promised, what was done otherwise.")
public final class PlanCommand extends CommandGroup {
  private final Workshop workshop;

  public PlanCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  @Command(
      name = "needs",
      mixinStandardHelpOptions = true,
      description = "Says how many sessions a change needs, from the spread so far.")
  int needs(
      @Mixin Places places,
      @Option(names = "--model", required = true, paramLabel = "M") String model,
      @Option(
              names = "--change",
              paramLabel = "POINTS",
              description = "size of the change in points of percent (default: a few sizes)")
          Optional<Double> change) {
    try (Tools tools = workshop.open(places)) {
      Models.Model known = model(tools, model);
      Planning.Basis basis = tools.database().read(tx -> Planning.basis(tx, known));
      if (!(basis.sdPercent().orElse(0) > 0) || basis.sessions() < 2)
        return refused(model + " has no spread yet: run one release in two sessions or more first");
      double sd = basis.sdPercent().getAsDouble();
      if (change.filter(c -> !(c > 0)).isPresent())
        throw wrong("--change takes a size above 0, in points of percent");
      List<Needed.Sessions> rows =
          change.isPresent()
              ? List.of(Needed.sessions(change.get(), sd, basis.sessions(), tools.policy()))
              : Needed.sessions(sd, basis.sessions(), tools.policy());
      for (Needed.Sessions row : rows)
        said(
            "A change of "
                + tools.digits().pointsSize(row.percent())
                + ": "
                + PlanWords.of(row, tools.digits())
                + ".");
      return Exit.DONE;
    }
  }

  @Command(
      name = "write",
      mixinStandardHelpOptions = true,
      description = "Puts a plan in force, until the first file of its firmware locks it.")
  int write(
      @Mixin Places places,
      @Option(names = "--model", required = true, paramLabel = "M") String model,
      @Option(names = "--firmware", required = true, paramLabel = "F") String firmware,
      @Option(
              names = "--condition",
              required = true,
              paramLabel = "COURSE/CARRIAGE/GAIT",
              description = "as mill-lane/fixed/walk; may be given more than once")
          List<String> conditions,
      @Option(names = "--unit", paramLabel = "U", description = "may be given more than once")
          Optional<List<String>> units,
      @Option(
              names = "--to-the-end",
              description = "stop at the last look only, whatever an earlier one says")
          boolean toTheEnd,
      @Option(names = "--words", paramLabel = "TEXT", defaultValue = "") String words,
      @Option(names = "--by", required = true, paramLabel = "NAME") String by) {
    // One row in one transaction: as a verdict, it may be written beside a running server.
    try (Tools tools = workshop.open(places)) {
      Models.Model known = model(tools, model);
      Planning.Basis basis = tools.database().read(tx -> Planning.basis(tx, known));
      List<Planned> planned = new ArrayList<>();
      for (String each : conditions) planned.add(condition(each));
      Planning.Wish wish =
          new Planning.Wish(
              firmware,
              basis.baseline().orElse(""),
              planned,
              units.orElse(List.of()),
              toTheEnd ? CampaignPlan.Stop.AT_THE_LAST_LOOK : CampaignPlan.Stop.WHEN_SETTLED,
              words,
              by);
      return Planning.plan(tools.database(), known, wish, tools.policy())
          .fold(
              done -> said("Planned: " + firmware + " of " + model + "."),
              no -> refused(no.sentence(tools.digits())));
    }
  }

  @Command(
      name = "show",
      mixinStandardHelpOptions = true,
      description = "Shows the plan of a release and what was done otherwise.")
  int show(
      @Mixin Places places,
      @Option(names = "--model", required = true, paramLabel = "M") String model,
      @Option(names = "--firmware", required = true, paramLabel = "F") String firmware) {
    try (Tools tools = workshop.open(places)) {
      Models.Model known = model(tools, model);
      Optional<Planning.Held> held =
          tools.database().read(tx -> Planning.held(tx, known.id(), firmware, tools.policy()));
      if (held.isEmpty()) return refused("no plan was made for " + firmware + " of " + model);
      print(held.get(), tools.digits());
      return held.get().now().deviations().isEmpty() ? Exit.DONE : Exit.FINDINGS;
    }
  }

  private void print(Planning.Held held, Digits digits) {
    PlanPage.PlanPart part = PlanPage.part(held.now(), held.earlier(), digits);
    said(part.status());
    for (String each : part.says()) said("  " + each);
    for (String each : part.deviations()) said("  otherwise: " + each);
  }

  private Planned condition(String text) {
    String[] parts = text.split("/", -1);
    if (parts.length != 3)
      throw wrong("a condition is written course/carriage/gait, as mill-lane/fixed/walk: " + text);
    Carriage carriage =
        Carriage.of(parts[1]).orElseThrow(() -> wrong("no carriage is named " + parts[1]));
    Gait gait = Gait.of(parts[2]).orElseThrow(() -> wrong("no gait is named " + parts[2]));
    return new Planned(parts[0], carriage, gait);
  }

  private Models.Model model(Tools tools, String name) {
    ModelNamed named = tools.database().read(tx -> ModelNamed.whole(tx, name));
    return named.model().orElseThrow(() -> wrong(named.sentence()));
  }

  private int said(String sentence) {
    PrintWriter out = spec.commandLine().getOut();
    out.println(sentence.replace('\u00a0', ' '));
    return Exit.DONE;
  }

  private int refused(String sentence) {
    spec.commandLine().getErr().println("milewarden: " + sentence.replace('\u00a0', ' '));
    return Exit.FINDINGS;
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
