package milewarden.app;

import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;
import milewarden.cli.CompareCommand;
import milewarden.cli.DueCommand;
import milewarden.cli.FalseAlarmsCommand;
import milewarden.cli.Milewarden;
import milewarden.cli.PeopleCommand;
import milewarden.cli.PlanCommand;
import milewarden.cli.ReportCommand;
import milewarden.cli.TokenCommand;
import milewarden.cli.VerdictCommand;
import milewarden.cli.VerifyCommand;
import milewarden.cli.Workshop;
import milewarden.cli.export.ExportCommand;

/** The program's entry. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    int code = Milewarden.run(commands(), utf8(System.out), utf8(System.err), args);
    System.exit(code);
  }

  /** The commands that need the whole program. */
  private static List<Object> commands() {
    Workshop store = new StoreDoor();
    return List.of(
        new ServeCommand(),
        new DemoCommand(),
        new IntakeCommand(),
        new RecomputeCommand(),
        new BackupCommand(),
        new RestoreCommand(),
        new MoveCommand(),
        new VerifyCommand(StoreDoor::check),
        new DryRunCommand(),
        new ConfigCommand(),
        new PeopleCommand(new StoreDoor(true), ServeCommand::variable),
        new TokenCommand(store),
        new ExportCommand(store),
        new DueCommand(store),
        new CompareCommand(store),
        new PlanCommand(store),
        new ReportCommand(store),
        new VerdictCommand(store),
        new FalseAlarmsCommand(store));
  }

  private static PrintWriter utf8(PrintStream stream) {
    return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), true);
  }
}
