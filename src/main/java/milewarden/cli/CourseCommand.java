package milewarden.cli;

import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** The commands about reference courses. */
@Command(
    name = "course",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    synopsisSubcommandLabel = "COMMAND",
    description = "Checks, drafts, measures and draws reference courses.",
    subcommands = {
      CourseCheckCommand.class,
      CourseDraftCommand.class,
      CourseSheetCommand.class,
      CourseTrackCommand.class
    })
final class CourseCommand implements Runnable {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Override
  public void run() {
    throw new ParameterException(
        spec.commandLine(), "name a command: check, draft, sheet or track");
  }
}
