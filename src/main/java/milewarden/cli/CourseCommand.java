package milewarden.cli;

import picocli.CommandLine.Command;

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
final class CourseCommand extends CommandGroup {}
