package milewarden.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.concurrent.Callable;
import milewarden.course.CourseRead;
import milewarden.course.ReferenceCourse;
import milewarden.report.CourseWords;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.units.UnitChoice;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Checks a course file and says what the program makes of it. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    description = "Checks a course file.")
final class CourseCheckCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Parameters(paramLabel = "FILE", description = "the course file")
  private Path file = Path.of("");

  @Override
  public Integer call() {
    return CourseArgument.read(file)
        .fold(
            usable -> {
              spec.commandLine().getOut().print(text(usable));
              return Exit.DONE;
            },
            refused -> {
              PrintWriter err = spec.commandLine().getErr();
              CourseArgument.lines(file, refused.issues()).forEach(err::println);
              return Exit.FINDINGS;
            });
  }

  static String text(CourseRead.Usable read) {
    ReferenceCourse c = read.course();
    Digits digits = Digits.of(UnitChoice.METRIC, ZoneId.systemDefault());
    TextTable table = new TextTable(2);
    table.row("shape", c.closed() ? "closed, run in laps" : "open, from start to finish");
    table.row("method", Words.of(c.method()));
    table.row("reference", digits.groundWithin(c.referenceM(), 2 * c.standardUncertaintyM()));
    if (c.horizontalM() != c.referenceM())
      table.row("reference, level", digits.ground(c.horizontalM()));
    double drawn = c.ellipsoidLengthM() * c.groundFactor();
    table.row("drawn line", digits.ground(drawn));
    table.row("line against reference", digits.percent(100 * (drawn / c.horizontalM() - 1), 3));
    table.row("positions", digits.count(c.line().positions().size()));
    table.row("sky", Words.of(c.skyView()));
    table.row("version", c.version());
    StringBuilder text = new StringBuilder(c.name() + " (" + c.slug() + ") is usable\n");
    text.append(table.text());
    read.notices()
        .forEach(n -> text.append("  ! ").append(CourseWords.of(n).sentence()).append('\n'));
    return text.toString().replace('\u00a0', ' ');
  }
}
