package milewarden.app;

import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Supplier;
import milewarden.cli.Milewarden;
import milewarden.cli.export.ExportCommand;
import milewarden.cli.kept.CompareCommand;
import milewarden.cli.kept.DueCommand;
import milewarden.cli.kept.FalseAlarmsCommand;
import milewarden.cli.kept.PeopleCommand;
import milewarden.cli.kept.PlanCommand;
import milewarden.cli.kept.ReportCommand;
import milewarden.cli.kept.TokenCommand;
import milewarden.cli.kept.VerdictCommand;
import milewarden.cli.kept.VerifyCommand;
import milewarden.cli.kept.Workshop;

/** The program's entry. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    int code = Milewarden.run(commands(), utf8(System.out), utf8(System.err), args);
    System.exit(code);
  }

  /** The commands that need the whole program. */
  static Map<String, Supplier<?>> commands() {
    Workshop store = new StoreDoor();
    Map<String, Supplier<?>> commands = new LinkedHashMap<>();
    commands.put(
        "serve",
        () -> {
          Ahead.start();
          return new ServeCommand();
        });
    commands.put("demo", DemoCommand::new);
    commands.put("intake", IntakeCommand::new);
    commands.put("recompute", RecomputeCommand::new);
    commands.put("backup", BackupCommand::new);
    commands.put("restore", RestoreCommand::new);
    commands.put("move", MoveCommand::new);
    commands.put("verify", () -> new VerifyCommand(StoreDoor::check));
    commands.put("dry-run", DryRunCommand::new);
    commands.put("config", ConfigCommand::new);
    commands.put("people", () -> new PeopleCommand(new StoreDoor(true), ServeCommand::variable));
    commands.put("token", () -> new TokenCommand(store));
    commands.put("export", () -> new ExportCommand(store));
    commands.put("due", () -> new DueCommand(store));
    commands.put("compare", () -> new CompareCommand(store));
    commands.put("plan", () -> new PlanCommand(store));
    commands.put("report", () -> new ReportCommand(store));
    commands.put("verdict", () -> new VerdictCommand(store));
    commands.put("false-alarms", () -> new FalseAlarmsCommand(store));
    return commands;
  }

  private static PrintWriter utf8(PrintStream stream) {
    return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), true);
  }
}
