package milewarden.cli;

import java.io.PrintWriter;
import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

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
public final class Milewarden implements Runnable {
  @Spec private CommandSpec spec = CommandSpec.create();

  private Milewarden() {}

  @Override
  public void run() {
    throw new ParameterException(spec.commandLine(), "name a command");
  }

  /**
   * Runs one command line.
   *
   * @param handed commands of the program beside those of this package
   * @return an exit code of {@link Exit}
   */
  public static int run(List<Object> handed, PrintWriter out, PrintWriter err, String... args) {
    CommandLine line = new CommandLine(new Milewarden());
    commands().forEach(line::addSubcommand);
    handed.forEach(line::addSubcommand);
    line.addSubcommand(new CommandLine.HelpCommand());
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
        (failure, command, parsed) -> {
          err.println("milewarden: " + command.getCommandName() + ": " + words(failure));
          err.flush();
          return Exit.FAILURE;
        });
    int code = line.execute(args);
    out.flush();
    err.flush();
    return code;
  }

  /** The commands that need no more than this package. */
  private static List<Object> commands() {
    return List.of(new MeasureCommand(), new CourseCommand());
  }

  private static String words(Exception failure) {
    String message = failure.getMessage();
    String text = message == null ? failure.toString() : message;
    return text.lines().findFirst().orElse(failure.toString());
  }
}
