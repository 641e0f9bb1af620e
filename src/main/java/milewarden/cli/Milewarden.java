package milewarden.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/**
 * The program's root command. Commands that need the whole program, {@code serve} say, are handed
 * to it by the program.
 */
@Command(
    name = "milewarden",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    synopsisSubcommandLabel = "COMMAND",
    description = "Watches whether a device's distance can still be trusted after each firmware.",
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {
      "0:done",
      "1:done, with findings: a regression, a refusal",
      "2:wrong use",
      "3:failure%n"
    })
public final class Milewarden extends CommandGroup {
  private Milewarden() {}

  /**
   * Runs one command line.
   *
   * @param handed commands of the program beside those of this package, by name
   * @return an exit code of {@link Exit}
   */
  public static int run(
      Map<String, Supplier<?>> handed, PrintWriter out, PrintWriter err, String... args) {
    Optional<Job> plain = plain(List.of(args));
    return plain.isPresent() ? run(args[0], plain.get(), out, err) : parsed(handed, out, err, args);
  }

  /** Runs the job of a line that is already read. */
  public static int run(String name, Job job, PrintWriter out, PrintWriter err) {
    int code;
    try {
      code = job.run(out, err);
    } catch (Exception failure) {
      code = failed(name, failure, err);
    }
    out.flush();
    err.flush();
    return code;
  }

  private static Optional<Job> plain(List<String> line) {
    if (line.isEmpty() || !line.get(0).equals("measure")) return Optional.empty();
    Rehearsal.start();
    return Measuring.plain(line);
  }

  private static int failed(String name, Exception failure, PrintWriter err) {
    err.println("milewarden: " + name + ": " + words(failure));
    err.flush();
    return Exit.FAILURE;
  }

  private static int parsed(
      Map<String, Supplier<?>> handed, PrintWriter out, PrintWriter err, String... args) {
    Map<String, Supplier<?>> all = new LinkedHashMap<>(commands());
    all.putAll(handed);
    Supplier<?> asked = args.length == 0 ? null : all.get(args[0]);
    // Looking through every command's options takes longer than many a command. The one that is
    // asked for comes first: what it loads ahead is loaded beside the reading of the line.
    List<Object> named = new ArrayList<>();
    if (asked != null) named.add(asked.get());
    else for (Supplier<?> command : all.values()) named.add(command.get());
    CommandLine line = new CommandLine(new Milewarden());
    if (asked == null) line.addSubcommand(new CommandLine.HelpCommand());
    named.forEach(line::addSubcommand);
    line.setOut(out);
    line.setErr(err);
    line.setCaseInsensitiveEnumValuesAllowed(true);
    line.setParameterExceptionHandler(
        (wrong, given) -> {
          String name = wrong.getCommandLine().getCommandSpec().qualifiedName();
          String message = String.valueOf(wrong.getMessage()).strip();
          err.println("milewarden: " + message + "; see: " + name + " --help");
          err.flush();
          return Exit.WRONG_USE;
        });
    line.setExecutionExceptionHandler(
        (failure, command, parsed) -> failed(command.getCommandName(), failure, err));
    int code = line.execute(args);
    out.flush();
    err.flush();
    return code;
  }

  /** The commands that need no more than this package. */
  private static Map<String, Supplier<?>> commands() {
    Map<String, Supplier<?>> commands = new LinkedHashMap<>();
    commands.put("measure", MeasureCommand::new);
    commands.put("course", CourseCommand::new);
    return commands;
  }

  private static String words(Exception failure) {
    String message = failure.getMessage();
    String text = message == null ? failure.toString() : message;
    return text.lines().findFirst().orElse(failure.toString());
  }
}
