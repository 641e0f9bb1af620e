package milewarden.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.text.Normalizer;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.course.CourseRead;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.draft.CourseDraft;
import milewarden.course.draft.DraftRequest;
import milewarden.format.CourseFile;
import milewarden.intake.course.LineSources;
import milewarden.report.CourseWords;
import milewarden.report.Digits;
import milewarden.units.Length;
import milewarden.units.UnitChoice;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Makes a first centreline from a recorded track and a wheel's reading. */
@Command(
    name = "draft",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    description = {
      "Makes a first course from recorded tracks, or a drawn line, and the length that was measured.",
      "Several tracks are averaged. The line of tracks is smoothed until it is as long as was"
          + " measured: judge other recordings by it, not these. A line without times (GeoJSON, KML,"
          + " GPX) or a GPX route counts as drawn and is not smoothed."
    })
final class CourseDraftCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Parameters(
      arity = "1..*",
      paramLabel = "TRACK",
      description = "recorded tracks over the course, or one drawn line")
  private List<Path> files = List.of();

  @Option(
      names = "--tolerance",
      paramLabel = "METRES",
      defaultValue = "0.25",
      description = "how far the simplified line may lie from the smoothed one (default: 0.25)")
  private double tolerance = CourseDraft.TOLERANCE_M;

  @Option(
      names = "--length",
      required = true,
      paramLabel = "LENGTH",
      description = "the measured length of one traversal or lap, \"0.25 mi\"")
  private String length = "";

  @Option(
      names = {"-o", "--output"},
      paramLabel = "FILE",
      description = "where to write the course; by default it is printed")
  private Optional<Path> output = Optional.empty();

  @Option(
      names = "--slug",
      paramLabel = "SLUG",
      description = "its short name; by default the track's")
  private Optional<String> slug = Optional.empty();

  @Option(names = "--name", paramLabel = "NAME", description = "its name; by default the short one")
  private Optional<String> name = Optional.empty();

  @Option(names = "--closed", paramLabel = "YES|NO", description = "a loop or not; else found out")
  private Optional<String> closed = Optional.empty();

  @Option(
      names = "--uncertainty",
      paramLabel = "LENGTH",
      description = "standard uncertainty of the length; by default 0.1 %% of it")
  private Optional<String> uncertainty = Optional.empty();

  @Option(
      names = "--method",
      paramLabel = "METHOD",
      description = "wheel (the default), calibrated-bicycle, steel-tape, survey, standard-track")
  private String method = "wheel";

  @Override
  public Integer call() {
    DraftRequest request = request();
    if (!(tolerance >= 0 && tolerance <= 10)) throw wrong("--tolerance", "" + tolerance);
    LineSources sources = new LineSources();
    for (Path file : files) sources.add(file.toString(), CourseArgument.bytes(file));
    if (!sources.problems().isEmpty()) return failed(sources.problems());
    return sources
        .draft(request, tolerance)
        .fold(
            drafted -> write(sources.named(drafted.draft())),
            bad -> failed(List.of(files.get(0) + ": " + CourseWords.of(bad).sentence())));
  }

  private int failed(List<String> lines) {
    lines.forEach(spec.commandLine().getErr()::println);
    return Exit.FINDINGS;
  }

  private int write(CourseDraft draft) {
    String text = CourseFile.write(draft.course());
    PrintWriter out = spec.commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    // What is handed out was read again by the very checks that the folder makes.
    CourseRead read = CourseFile.read(text.getBytes(StandardCharsets.UTF_8));
    if (output.isEmpty()) out.print(text);
    else save(output.get(), text);
    err.print(summary(draft));
    return read.fold(
        usable -> {
          usable.notices().forEach(n -> err.println("  ! " + CourseWords.of(n).sentence()));
          return Exit.DONE;
        },
        refused -> {
          CourseArgument.lines(output.orElse(files.get(0)), refused.issues()).forEach(err::println);
          return Exit.FINDINGS;
        });
  }

  static void save(Path to, String text) {
    try {
      Files.writeString(to, text, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    } catch (IOException e) {
      String why =
          Files.exists(to)
              ? "there is such a file already; name another, or take it away first"
              : "cannot be written (" + e.getMessage() + ")";
      throw new UncheckedIOException(to + ": " + why, e);
    }
  }

  private static String summary(CourseDraft draft) {
    Digits digits = Digits.of(UnitChoice.METRIC, ZoneId.systemDefault());
    TextTable table = new TextTable(2);
    table.row("shape", draft.course().closed() ? "closed, run in laps" : "open");
    table.row("recordings", digits.count(draft.walks()));
    table.row("traversals in them", digits.count(draft.traversals()));
    if (draft.traversals() > 1)
      table.row("apart from their mean", digits.number(draft.apartM(), 2) + " m, root mean square");
    table.row("measured", digits.ground(draft.course().measuredLengthM()));
    table.row("recorded path", digits.ground(draft.recordedM()));
    table.row("drawn line", digits.ground(draft.drawnM()));
    table.row("smoothed over", digits.ground(draft.smoothingM()));
    table.row("simplified within", digits.number(draft.toleranceM(), 2) + " m");
    String caution =
        "  ! The line was smoothed to the measured length: that they agree proves nothing.\n"
            + "    Offsets and track error of this same recording say nothing about its device.\n"
            + "    Its shown and recorded distances do. Draw or survey the line when you can.\n";
    return ("A first course from this track\n" + table.text() + caution).replace('\u00a0', ' ');
  }

  private DraftRequest request() {
    CourseSlug shortName = slug();
    return new DraftRequest(
        shortName,
        name.orElse(shortName.text()),
        length(length, "--length"),
        uncertainty.map(u -> length(u, "--uncertainty")),
        Method.of(method).orElseThrow(() -> wrong("--method", method)),
        Optional.empty(),
        "",
        closed.map(this::yes));
  }

  private Length length(String text, String option) {
    return Length.parse(text).filter(l -> l.metres() > 0).orElseThrow(() -> wrong(option, text));
  }

  private boolean yes(String text) {
    return switch (text.toLowerCase(Locale.ROOT)) {
      case "yes", "true" -> true;
      case "no", "false" -> false;
      default -> throw wrong("--closed", text);
    };
  }

  private CourseSlug slug() {
    String text = slug.orElseGet(() -> fromFile(files.get(0)));
    if (!CourseSlug.isValid(text)) throw wrong("--slug", text);
    return new CourseSlug(text);
  }

  private static String fromFile(Path file) {
    String name = String.valueOf(file.getFileName()).replaceFirst("\\.[^.]*$", "");
    String plain = Normalizer.normalize(name, Normalizer.Form.NFD).toLowerCase(Locale.ROOT);
    String slug = plain.replaceAll("[^a-z0-9]+", "-").replaceAll("^-+|-+$", "");
    String cut = slug.length() > 64 ? slug.substring(0, 64).replaceAll("-+$", "") : slug;
    return cut.isEmpty() ? "course" : cut;
  }

  private ParameterException wrong(String option, String text) {
    return new ParameterException(
        spec.commandLine(), option + " \"" + text + "\" is not understood; see the help");
  }
}
