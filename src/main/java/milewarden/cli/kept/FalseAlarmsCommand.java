package milewarden.cli.kept;

import java.io.PrintWriter;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.page.Fact;
import milewarden.report.trial.AlarmLines;
import milewarden.review.FalseAlarms;
import milewarden.verdict.replay.AaRate;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** How often a comparison of this store fires when nothing changed. */
@Command(
    name = "false-alarms",
    mixinStandardHelpOptions = true,
    description = {
      "Splits each release's sessions at random into two invented releases, and compares them.",
      "Nothing changed, so what fires is a false alarm. Writes nothing; exit code 1 where it",
      "fires more often than promised, beyond chance."
    })
public final class FalseAlarmsCommand implements Callable<Integer> {
  private final Workshop workshop;
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(
      names = "--splits",
      paramLabel = "N",
      defaultValue = "2000",
      description = "how many in all (default: 2000)")
  private int splits = 2000;

  @Option(names = "--json", description = "one JSON document")
  private boolean json;

  public FalseAlarmsCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  /** The document of {@code --json}: shares between 0 and 1. */
  record Document(
      int splits,
      int fired,
      double measured,
      double promised,
      double monteCarloError,
      boolean holds) {}

  @Override
  public Integer call() {
    try (Tools tools = workshop.open(places)) {
      AaRate rate = new FalseAlarms(tools.database(), tools.policy(), tools.zone()).measure(splits);
      PrintWriter out = spec.commandLine().getOut();
      if (json)
        out.println(
            AnswerJson.of(
                new Document(
                    rate.splits(),
                    rate.fired(),
                    rate.measured(),
                    rate.promised(),
                    rate.monteCarloError(),
                    rate.holds())));
      else
        for (Fact line :
            AlarmLines.of(Optional.of(new AlarmLines.Measured(tools.now(), rate)), tools.digits()))
          out.println(
              (line.name() + ": " + line.value() + " " + line.remark()).replace('\u00a0', ' '));
      return rate.holds() ? Exit.DONE : Exit.FINDINGS;
    }
  }
}
