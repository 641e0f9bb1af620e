package milewarden.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.format.text.ColumnAnswers;
import milewarden.report.Digits;
import milewarden.track.Issue;
import milewarden.track.TrackRead;
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
    MeasureOptions options = options();
    PrintWriter err = spec.commandLine().getErr();
    return CourseArgument.read(course)
        .fold(
            usable -> withReference(usable.course(), options),
            refused -> {
              CourseArgument.lines(course, refused.issues())
                  .forEach(line -> err.println("milewarden: measure: " + line));
              return Exit.FAILURE;
            });
  }

  private int withReference(ReferenceCourse with, MeasureOptions options) {
    ReferenceArgument reference =
        referenceTrack.map(ReferenceArgument::read).orElse(ReferenceArgument.NONE);
    if (!reference.why().isEmpty()) {
      spec.commandLine().getErr().println("milewarden: measure: " + reference.why());
      return Exit.FAILURE;
    }
    return measured(with, options, reference.track());
  }

  private int measured(
      ReferenceCourse with, MeasureOptions options, Optional<ReferenceTrack> reference) {
    Digits digits = Digits.of(unitChoice(), ZoneId.systemDefault());
    List<TrackReport> reports = new ArrayList<>();
    for (Path track : tracks) {
      TrackReport report = report(track, with, options);
      reports.add(reference.map(r -> report.against(r, digits)).orElse(report));
    }
    PrintWriter out = spec.commandLine().getOut();
    out.print(json ? MeasureJson.of(with, reports) : new MeasureText(digits).of(with, reports));
    return reports.stream().anyMatch(TrackReport::hasFindings) ? Exit.FINDINGS : Exit.DONE;
  }

  private TrackReport report(Path file, ReferenceCourse with, MeasureOptions options) {
    TrackFile recording;
    try {
      recording = TrackFile.of(file, answers());
    } catch (IOException e) {
      String why = CourseArgument.unreadable(file, e);
      TrackReport.Problem problem =
          new TrackReport.Problem("unreadable-file", Optional.empty(), why, why, true);
      return new TrackReport(file.toString(), Optional.empty(), Optional.empty(), List.of(problem));
    }
    String sha256 = recording.sha256();
    return recording
        .read()
        .fold(
            usable -> measure(file, sha256, usable, with, options),
            refused ->
                new TrackReport(
                    file.toString(),
                    Optional.of(sha256),
                    Optional.empty(),
                    List.of(TrackReport.Problem.of(refused.why()))));
  }

  private static TrackReport measure(
      Path file,
      String sha256,
      TrackRead.Usable read,
      ReferenceCourse with,
      MeasureOptions options) {
    TrackMeasurement result = Measurer.measure(read.track(), with, options);
    List<TrackReport.Problem> problems = new ArrayList<>();
    // Dropped fixes and single values are counted among the repairs; a broken file is a problem.
    for (Issue issue : read.drops().details())
      if (issue.kind() == Issue.Kind.TRUNCATED) problems.add(TrackReport.Problem.of(issue));
    for (Finding finding : result.findings()) problems.add(TrackReport.Problem.of(finding));
    if (with.isDraftedFrom(sha256))
      problems.add(TrackReport.Problem.of(new Finding(Finding.Code.OWN_DRAFT, "", "")));
    return new TrackReport(
        file.toString(),
        Optional.of(sha256),
        Optional.of(new TrackReport.Measured(read.track(), read.drops(), result, Optional.empty())),
        problems);
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
