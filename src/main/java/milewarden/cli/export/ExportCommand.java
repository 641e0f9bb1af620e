package milewarden.cli.export;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.cli.kept.Tools;
import milewarden.cli.kept.Workshop;
import milewarden.report.DamageWords;
import milewarden.report.Words;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code export FOLDER}: runs, results and verdicts as tables with their dictionary. */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description = {
      "Writes all runs, results, verdicts and changes as CSV into a folder, and dictionary.csv, which says",
      "what each column means and its unit. May be run beside a server."
    })
public final class ExportCommand implements Callable<Integer> {
  private final Workshop workshop;
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Parameters(
      paramLabel = "FOLDER",
      description = "made where it is not there; files of the same names are replaced")
  private Path folder = Path.of("");

  public ExportCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
    try (Tools tools = workshop.open(places)) {
      Export.Written written = Export.into(folder, tools.database());
      written.files().forEach(file -> out.println("written  " + file));
      if (written.unread().isEmpty()) return Exit.DONE;
      spec.commandLine()
          .getErr()
          .println("milewarden: " + DamageWords.exported(Words.list(written.unread())));
      return Exit.FINDINGS;
    }
  }
}
