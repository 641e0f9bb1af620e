package milewarden.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.format.text.ColumnAnswers;
import milewarden.report.Digits;
import milewarden.track.Issue;
import milewarden.track.TrackRead;
import milewarden.units.UnitChoice;

/** The job of {@code measure}. */
record Measuring(
    List<Path> tracks,
    Path course,
    Optional<Path> referenceTrack,
    MeasureOptions options,
    ColumnAnswers answers,
    UnitChoice units,
    boolean json)
    implements Job {
  Measuring {
    tracks = List.copyOf(tracks);
  }

  /** That of a plain line: tracks, their course, and no more than how it is shown. */
  static Optional<Job> plain(List<String> line) {
    return PlainLine.job(
        line, Set.of("--course", "--shown", "--units"), Set.of("--json"), Measuring::of);
  }

  private static Optional<Job> of(PlainLine line) {
    Optional<Path> course = line.path("--course");
    Optional<UnitChoice> units = UnitChoice.of(line.value("--units").orElse("km"));
    Optional<String> shown = line.value("--shown");
    Optional<Reading> reading =
        shown.flatMap(text -> ShownText.reading(text, Optional.empty(), Rounding.UNKNOWN));
    int tracks = line.operands().size();
    if (course.isEmpty() || units.isEmpty() || tracks == 0) return Optional.empty();
    if (shown.isPresent() && (reading.isEmpty() || tracks != 1)) return Optional.empty();
    return Optional.of(
        new Measuring(
            line.operands().stream().map(Path::of).toList(),
            course.get(),
            Optional.empty(),
            new MeasureOptions(
                Optional.empty(),
                OptionalInt.empty(),
                Optional.empty(),
                reading.stream().toList(),
                Gait.WALK),
            ColumnAnswers.NONE,
            units.get(),
            line.flags().contains("--json")));
  }

  @Override
  public int run(PrintWriter out, PrintWriter err) {
    return CourseArgument.read(course)
        .fold(
            usable -> withReference(usable.course(), out, err),
            refused -> {
              CourseArgument.lines(course, refused.issues())
                  .forEach(line -> err.println("milewarden: measure: " + line));
              return Exit.FAILURE;
            });
  }

  private int withReference(ReferenceCourse with, PrintWriter out, PrintWriter err) {
    ReferenceArgument reference =
        referenceTrack.map(ReferenceArgument::read).orElse(ReferenceArgument.NONE);
    if (!reference.why().isEmpty()) {
      err.println("milewarden: measure: " + reference.why());
      return Exit.FAILURE;
    }
    return measured(with, reference.track(), out);
  }

  private int measured(ReferenceCourse with, Optional<ReferenceTrack> reference, PrintWriter out) {
    Digits digits = Digits.of(units, ZoneId.systemDefault());
    List<TrackReport> reports = new ArrayList<>();
    for (Path track : tracks) {
      TrackReport report = report(track, with);
      reports.add(reference.map(r -> report.against(r, digits)).orElse(report));
    }
    out.print(json ? MeasureJson.of(with, reports) : new MeasureText(digits).of(with, reports));
    return reports.stream().anyMatch(TrackReport::hasFindings) ? Exit.FINDINGS : Exit.DONE;
  }

  private TrackReport report(Path file, ReferenceCourse with) {
    TrackFile recording;
    try {
      recording = TrackFile.of(file, answers, json || with.isDrafted());
    } catch (IOException e) {
      String why = CourseArgument.unreadable(file, e);
      TrackReport.Problem problem =
          new TrackReport.Problem("unreadable-file", Optional.empty(), why, why, true);
      return new TrackReport(file.toString(), Optional.empty(), Optional.empty(), List.of(problem));
    }
    Optional<String> sha256 = recording.sha256();
    return recording
        .read()
        .fold(
            usable -> measure(file, sha256, usable, with),
            refused ->
                new TrackReport(
                    file.toString(),
                    sha256,
                    Optional.empty(),
                    List.of(TrackReport.Problem.of(refused.why()))));
  }

  private TrackReport measure(
      Path file, Optional<String> sha256, TrackRead.Usable read, ReferenceCourse with) {
    TrackMeasurement result = Measurer.measure(read.track(), with, options);
    List<TrackReport.Problem> problems = new ArrayList<>();
    // Dropped fixes and single values are counted among the repairs; a broken file is a problem.
    for (Issue issue : read.drops().details())
      if (issue.kind() == Issue.Kind.TRUNCATED) problems.add(TrackReport.Problem.of(issue));
    for (Finding finding : result.findings()) problems.add(TrackReport.Problem.of(finding));
    if (sha256.filter(with::isDraftedFrom).isPresent())
      problems.add(TrackReport.Problem.of(new Finding(Finding.Code.OWN_DRAFT, "", "")));
    return new TrackReport(
        file.toString(),
        sha256,
        Optional.of(new TrackReport.Measured(read.track(), read.drops(), result, Optional.empty())),
        problems);
  }
}
