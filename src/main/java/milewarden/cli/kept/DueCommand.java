package milewarden.cli.kept;

import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.AdviceWords;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.report.answer.DueAnswer;
import milewarden.store.judged.DueItems;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** The due list. */
@Command(
    name = "due",
    mixinStandardHelpOptions = true,
    description = "Prints the due list; exit code 1 while something is open.")
public final class DueCommand implements Callable<Integer> {
  private final Workshop workshop;
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(names = "--json", description = "one JSON document")
  private boolean json;

  public DueCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  /** The document of {@code --json}. */
  record Document(List<DueAnswer> items) {
    Document {
      items = List.copyOf(items);
    }
  }

  @Override
  public Integer call() {
    try (Tools tools = workshop.open(places)) {
      List<DueItems.Due> open = tools.database().read(tx -> DueItems.open(tx));
      PrintWriter out = spec.commandLine().getOut();
      if (json) out.println(AnswerJson.of(document(open, tools.digits())));
      else print(open, tools.digits(), out);
      return open.isEmpty() ? Exit.DONE : Exit.FINDINGS;
    }
  }

  private static Document document(List<DueItems.Due> open, Digits digits) {
    return new Document(
        open.stream()
            .map(d -> DueAnswer.of(d.id().value(), d.item(), d.raisedAt(), d.whole(), digits))
            .toList());
  }

  private static void print(List<DueItems.Due> open, Digits digits, PrintWriter out) {
    if (open.isEmpty()) out.println("Nothing is due.");
    for (DueItems.Due due : open) {
      out.println(DueWords.sentence(due.item(), digits).replace('\u00a0', ' '));
      List<String> advice =
          due.whole() ? AdviceWords.of(due.item(), digits) : List.of(DamageWords.due(true));
      for (String each : advice) out.println("  - " + each.replace('\u00a0', ' '));
      out.println("  since " + digits.date(due.raisedAt()));
    }
  }
}
