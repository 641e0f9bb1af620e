package milewarden.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.course.CourseSlug;
import milewarden.course.StandardTrack;
import milewarden.course.TrackCourse;
import milewarden.format.CourseFile;
import milewarden.geodesy.Position;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Makes a course of a standard 400 m track. */
@Command(
    name = "track",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    description = {
      "Makes a course of a standard 400 m track in any lane, from a position and a bearing.",
      "Its length is the one of the drawing; measure your own track before you trust it."
    })
final class CourseTrackCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Option(
      names = "--centre",
      required = true,
      paramLabel = "LAT,LON",
      description = "the middle of the infield, decimal degrees: 47.12345,8.12345")
  private String centre = "";

  @Option(
      names = "--bearing",
      required = true,
      paramLabel = "DEGREES",
      description =
          "direction of running on the home straight, clockwise from north; the track turns left")
  private double bearing;

  @Option(
      names = "--lane",
      paramLabel = "N",
      defaultValue = "1",
      description = "1, the innermost, to 9")
  private int lane = 1;

  @Option(
      names = "--start",
      paramLabel = "METRES",
      defaultValue = "0",
      description = "where the mark is, along the lap from the finish line")
  private double start;

  @Option(
      names = "--uncertainty",
      paramLabel = "METRES",
      description = "standard uncertainty of the lap; by default 0.1 %% of it")
  private Optional<Double> uncertainty = Optional.empty();

  @Option(names = "--slug", paramLabel = "SLUG", description = "its short name")
  private Optional<String> slug = Optional.empty();

  @Option(names = "--name", paramLabel = "NAME", description = "its name")
  private Optional<String> name = Optional.empty();

  @Option(
      names = {"-o", "--output"},
      paramLabel = "FILE",
      description = "where to write the course; by default it is printed")
  private Optional<Path> output = Optional.empty();

  @Override
  public Integer call() {
    if (lane < 1 || lane > 9) throw wrong("--lane " + lane + " is none of 1 to 9");
    StandardTrack track = new StandardTrack(position(), bearing, lane);
    String text = slug.orElse("track-lane-" + lane);
    if (!CourseSlug.isValid(text)) throw wrong("--slug " + text + " is no short name");
    String file =
        CourseFile.write(
            TrackCourse.of(
                track,
                start,
                new CourseSlug(text),
                name.orElse("400 m track, lane " + lane),
                uncertainty.filter(u -> u > 0).orElse(track.lapM() / 1000)));
    PrintWriter out = spec.commandLine().getOut();
    if (output.isPresent()) CourseDraftCommand.save(output.get(), file);
    else out.print(file);
    return Exit.DONE;
  }

  private Position position() {
    String[] parts = centre.split("[,;\\s]+");
    try {
      double latitude = Double.parseDouble(parts[0]);
      double longitude = Double.parseDouble(parts[1]);
      if (Math.abs(latitude) < 90 && Math.abs(longitude) <= 180)
        return new Position(latitude, longitude);
    } catch (NumberFormatException | ArrayIndexOutOfBoundsException e) {
      // Said below, with what is wanted.
    }
    throw wrong("--centre \"" + centre + "\" is no latitude and longitude: 47.12345,8.12345");
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
