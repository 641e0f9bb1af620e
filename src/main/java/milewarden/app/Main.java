package milewarden.app;

import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.cli.Job;
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
  // In the order of the help.
  private static final List<String> NAMES =
      List.of(
          "serve",
          "demo",
          "intake",
          "recompute",
          "backup",
          "restore",
          "move",
          "verify",
          "dry-run",
          "config",
          "people",
          "token",
          "export",
          "due",
          "compare",
          "plan",
          "report",
          "verdict",
          "false-alarms");

  private Main() {}

  public static void main(String[] args) {
    System.exit(run(utf8(System.out), utf8(System.err), args));
  }

  private static int run(PrintWriter out, PrintWriter err, String... args) {
    if (args.length == 0 || !args[0].equals("serve"))
      return Milewarden.run(commands(), out, err, args);
    Ahead.start();
    Optional<Job> plain = Serving.plain(List.of(args));
    return plain.isPresent()
        ? Milewarden.run(args[0], plain.get(), out, err)
        : Milewarden.run(commands(), out, err, args);
  }

  /** The commands that need the whole program. */
  static Map<String, Supplier<?>> commands() {
    Map<String, Supplier<?>> commands = new LinkedHashMap<>();
    // One lambda for all: each of its own would be made at every start.
    for (String name : NAMES) commands.put(name, () -> command(name));
    return commands;
  }

  private static Object command(String name) {
    Workshop store = new StoreDoor();
    return switch (name) {
      case "serve" -> new ServeCommand();
      case "demo" -> new DemoCommand();
      case "intake" -> new IntakeCommand();
      case "recompute" -> new RecomputeCommand();
      case "backup" -> new BackupCommand();
      case "restore" -> new RestoreCommand();
      case "move" -> new MoveCommand();
      case "verify" -> new VerifyCommand(StoreDoor::check);
      case "dry-run" -> new DryRunCommand();
      case "config" -> new ConfigCommand();
      case "people" -> new PeopleCommand(new StoreDoor(true), ServeCommand::variable);
      case "token" -> new TokenCommand(store);
      case "export" -> new ExportCommand(store);
      case "due" -> new DueCommand(store);
      case "compare" -> new CompareCommand(store);
      case "plan" -> new PlanCommand(store);
      case "report" -> new ReportCommand(store);
      case "verdict" -> new VerdictCommand(store);
      case "false-alarms" -> new FalseAlarmsCommand(store);
      default -> throw new IllegalArgumentException(name);
    };
  }

  private static PrintWriter utf8(PrintStream stream) {
    return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), true);
  }
}
