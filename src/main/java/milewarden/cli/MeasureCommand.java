package milewarden.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import milewarden.accuracy.MeasureOptions;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.format.text.ColumnAnswers;
import milewarden.units.UnitChoice;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Measures tracks against one course and prints it; touches no store. */
@Command(
    name = "measure",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    description = "Measures tracks against one course; keeps nothing.")
final class MeasureCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Parameters(arity = "1..*", paramLabel = "TRACK", description = "recorded tracks")
  private List<Path> tracks = List.of();

  @Option(names = "--course", required = true, paramLabel = "FILE", description = "the course file")
  private Path course = Path.of("");

  @Option(
      names = "--reference-track",
      paramLabel = "FILE",
      description =
          "a track of a survey-grade receiver carried along, same clock: each position is held"
              + " against it")
  private Optional<Path> referenceTrack = Optional.empty();

  @Option(names = "--json", description = "print one JSON document")
  private boolean json;

  @Option(
      names = "--shown",
      paramLabel = "DISTANCE",
      description = "what the display said, \"0.27 mi\"; once for each pass, in order; one track")
  private List<String> shown = List.of();

  @Option(
      names = "--shown-step",
      paramLabel = "STEP",
      description = "the display's smallest step in that unit; by default that of its last digit")
  private Optional<String> shownStep = Optional.empty();

  @Option(
      names = "--rounding",
      paramLabel = "RULE",
      description = "rounded, truncated or unknown (the default)")
  private String rounding = "unknown";

  @Option(names = "--bounds", paramLabel = "BOUNDS", description = "marks or gates; else found out")
  private Optional<String> bounds = Optional.empty();

  @Option(
      names = "--laps",
      paramLabel = "N",
      description = "laps between the marks; else found out")
  private Optional<Integer> laps = Optional.empty();

  @Option(
      names = "--direction",
      paramLabel = "DIRECTION",
      description = "forward or reverse; else found out")
  private Optional<String> direction = Optional.empty();

  @Option(names = "--gait", paramLabel = "GAIT", description = "walk (the default), run or ride")
  private String gait = "walk";

  @Option(
      names = "--columns",
      paramLabel = "ANSWERS",
      description = "what a table's doubtful columns are, \"5=km; 7=skip; dates=day-first\"")
  private Optional<String> columns = Optional.empty();

  @Option(names = "--units", paramLabel = "UNITS", description = "km (the default) or mi")
  private String units = "km";

  @Override
  public Integer call() {
    // What is wrong with the line is said in this order.
    MeasureOptions options = options();
    return new Measuring(tracks, course, referenceTrack, options, answers(), unitChoice(), json)
        .run(spec.commandLine().getOut(), spec.commandLine().getErr());
  }

  private MeasureOptions options() {
    if (!shown.isEmpty() && tracks.size() != 1)
      throw wrong("--shown needs exactly one track, " + tracks.size() + " were given");
    if (shown.isEmpty() && shownStep.isPresent()) throw wrong("--shown-step needs --shown");
    Optional<Bounds> by =
        bounds.map(t -> Bounds.of(t).orElseThrow(() -> unknown("--bounds", t, "marks or gates")));
    Optional<Direction> way =
        direction.map(
            t ->
                Direction.of(t).orElseThrow(() -> unknown("--direction", t, "forward or reverse")));
    Gait how = Gait.of(gait).orElseThrow(() -> unknown("--gait", gait, "walk, run or ride"));
    if (laps.isPresent() && laps.get() < 1) throw unknown("--laps", laps.get() + "", "1 or more");
    OptionalInt count = laps.map(OptionalInt::of).orElse(OptionalInt.empty());
    unitChoice();
    answers();
    return new MeasureOptions(by, count, way, readings(), how);
  }

  private List<Reading> readings() {
    Rounding rule =
        Rounding.of(rounding)
            .orElseThrow(() -> unknown("--rounding", rounding, "rounded, truncated or unknown"));
    List<Reading> readings = new ArrayList<>();
    for (String text : shown)
      readings.add(
          ShownText.reading(text, shownStep, rule)
              .orElseThrow(
                  () -> unknown("--shown", text, "a distance with its unit, as \"0.27 mi\"")));
    return readings;
  }

  private ColumnAnswers answers() {
    return columns
        .map(
            t ->
                ColumnAnswers.of(t)
                    .orElseThrow(() -> unknown("--columns", t, "such as \"5=km; 7=skip\"")))
        .orElse(ColumnAnswers.NONE);
  }

  private UnitChoice unitChoice() {
    return UnitChoice.of(units).orElseThrow(() -> unknown("--units", units, "km or mi"));
  }

  private ParameterException unknown(String option, String found, String wanted) {
    return wrong(option + " \"" + found + "\" is not known: give " + wanted);
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}
