package milewarden.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.course.CourseChange;
import milewarden.course.FieldSheet;
import milewarden.course.LengthBudget;
import milewarden.course.LengthBudget.Term;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.measured.FieldSheetFile;
import milewarden.report.Digits;
import milewarden.report.MeasuredWords;
import milewarden.report.Words;
import milewarden.units.UnitChoice;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Works out the field sheet of a course's measurement. */
@Command(
    name = "sheet",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    description = {
      "Works out the field sheet of a measurement: length, uncertainty and where it comes from.",
      "The sheet is CSV with the columns item,value,start,end,turns,temperature_c,note;"
          + " --blank prints one to fill in."
    })
final class CourseSheetCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Parameters(arity = "0..1", paramLabel = "FILE", description = "the field sheet")
  private Optional<Path> file = Optional.empty();

  @Option(
      names = "--blank",
      paramLabel = "METHOD",
      description =
          "prints a sheet to fill in: wheel, calibrated-bicycle, steel-tape or certificate")
  private Optional<String> blank = Optional.empty();

  @Option(names = "--json", description = "one JSON document instead of a table")
  private boolean json;

  @Option(names = "--csv", description = "the budget as CSV instead of a table")
  private boolean csv;

  @Option(
      names = "--into",
      paramLabel = "COURSE",
      description = "a course file: printed again with this measurement as its next version")
  private Optional<Path> into = Optional.empty();

  @Option(
      names = "--why",
      paramLabel = "WORDS",
      description = "the reason of that version (with --into)")
  private Optional<String> why = Optional.empty();

  @Option(
      names = "--on",
      paramLabel = "DATE",
      description = "the day of that version, 2026-05-12; by default the day measured on")
  private Optional<LocalDate> on = Optional.empty();

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
    if (blank.isPresent()) {
      out.print(
          FieldSheetFile.blank(blank.get())
              .orElseThrow(() -> wrong("--blank " + blank.get() + " is no method of a sheet")));
      return Exit.DONE;
    }
    Path path = file.orElseThrow(() -> wrong("name a field sheet, or --blank METHOD"));
    FieldSheetFile.CsvLines csv = FieldSheetFile.csv(CourseArgument.bytes(path));
    return csv.read()
        .fold(
            usable -> worked(usable.sheet(), csv),
            refused -> {
              PrintWriter err = spec.commandLine().getErr();
              refused
                  .issues()
                  .forEach(i -> err.println(path + ": " + MeasuredWords.of(i).sentence()));
              return Exit.FINDINGS;
            });
  }

  private int worked(FieldSheet sheet, FieldSheetFile.CsvLines lines) {
    LengthBudget budget = LengthBudget.of(sheet);
    if (into.isPresent()) return rewritten(into.get(), sheet, budget, lines);
    PrintWriter out = spec.commandLine().getOut();
    if (json) out.println(json(sheet, budget).toPrettyString());
    else if (csv) out.print(csv(budget));
    else out.print(text(sheet, budget));
    boolean again =
        budget.warnings().stream()
            .anyMatch(w -> w.kind() == LengthBudget.Warning.Kind.MEASURE_AGAIN);
    return again ? Exit.FINDINGS : Exit.DONE;
  }

  /** The course with this measurement; its own checks say whether the line still fits it. */
  private int rewritten(
      Path course, FieldSheet sheet, LengthBudget budget, FieldSheetFile.CsvLines csv) {
    String reason =
        why.orElseThrow(() -> wrong("--into needs --why WORDS: why there is a version"));
    LocalDate day =
        on.or(sheet::measuredOn)
            .orElseThrow(() -> wrong("--into needs --on DATE, or measured_on in the sheet"));
    PrintWriter err = spec.commandLine().getErr();
    return CourseArgument.read(course)
        .fold(
            usable -> {
              ReferenceCourse next =
                  usable
                      .course()
                      .measured(
                          budget,
                          sheet.readings().method(),
                          sheet.measuredOn(),
                          sheet.measuredBy(),
                          FieldSheetFile.json(csv.lines()))
                      .changed(new CourseChange(sheet.measuredBy(), reason, day));
              String text = CourseFile.write(next);
              spec.commandLine().getOut().print(text);
              return CourseFile.read(text.getBytes(StandardCharsets.UTF_8))
                  .fold(
                      ok -> Exit.DONE,
                      bad -> {
                        CourseArgument.lines(course, bad.issues()).forEach(err::println);
                        return Exit.FINDINGS;
                      });
            },
            bad -> {
              CourseArgument.lines(course, bad.issues()).forEach(err::println);
              return Exit.FINDINGS;
            });
  }

  private static String text(FieldSheet sheet, LengthBudget b) {
    Digits digits = Digits.of(UnitChoice.METRIC, ZoneId.systemDefault());
    StringBuilder text = new StringBuilder();
    TextTable table = new TextTable(2);
    table.row("method", Words.of(sheet.readings().method()));
    table.row("length", digits.number(b.lengthM(), 3) + " m");
    if (b.safetyFactor().isPresent())
      table.row("reference, with 1.001", digits.number(b.referenceM(), 3) + " m");
    table.row("standard uncertainty u", digits.number(b.standardUncertaintyM(), 3) + " m");
    table.row("degrees of freedom", digits.degreesOfFreedom(b.degreesOfFreedom()));
    table.row("coverage factor k, 95 %", digits.number(b.coverageFactor(), 2));
    table.row(
        "expanded uncertainty U",
        digits.number(b.expandedUncertaintyM(), 3)
            + " m, "
            + digits.number(100 * b.expandedUncertaintyM() / b.referenceM(), 3)
            + " %");
    b.calibration()
        .ifPresent(
            c -> {
              table.row("counts per km before", digits.number(c.beforePerKm(), 2));
              c.afterPerKm()
                  .ifPresent(
                      after -> {
                        table.row("counts per km after", digits.number(after, 2));
                        table.row("change", digits.percent(c.changePercent().orElseThrow(), 3));
                      });
              table.row("counts per km used", digits.number(c.usedPerKm(), 2) + ", their mean");
            });
    text.append(table.text()).append("  budget\n");
    TextTable budget = new TextTable(4);
    budget.row("contribution", "u, m", "share", "df", "rests on");
    for (Term t : b.terms())
      budget.row(
          MeasuredWords.of(t),
          digits.number(t.standardM(), 4),
          digits.number(100 * b.share(t), 1) + " %",
          digits.degreesOfFreedom(t.degreesOfFreedom()),
          MeasuredWords.basis(t));
    text.append(budget.text());
    b.warnings()
        .forEach(w -> text.append("  ! ").append(MeasuredWords.of(w).sentence()).append('\n'));
    Words.CAUTIONS.forEach(caution -> text.append("  ").append(caution).append('\n'));
    return text.toString().replace('\u00a0', ' ');
  }

  private static String csv(LengthBudget b) {
    StringBuilder text =
        new StringBuilder("contribution,standard_uncertainty_m,share,degrees_of_freedom,assumed\n");
    for (Term t : b.terms())
      text.append('"')
          .append(MeasuredWords.of(t).replace("\"", "\"\""))
          .append("\",")
          .append(t.standardM())
          .append(',')
          .append(b.share(t))
          .append(',')
          .append(Double.isFinite(t.degreesOfFreedom()) ? t.degreesOfFreedom() + "" : "")
          .append(',')
          .append(t.assumed() ? "yes" : "no")
          .append('\n');
    return text.toString();
  }

  private static ObjectNode json(FieldSheet sheet, LengthBudget b) {
    ObjectNode node =
        JsonNodeFactory.instance
            .objectNode()
            .put("method", sheet.readings().method().code())
            .put("lengthM", b.lengthM());
    b.safetyFactor()
        .ifPresentOrElse(f -> node.put("safetyFactor", f), () -> node.putNull("safetyFactor"));
    node.put("referenceM", b.referenceM())
        .put("standardUncertaintyM", b.standardUncertaintyM())
        .put("coverageFactor", b.coverageFactor())
        .put("expandedUncertaintyM", b.expandedUncertaintyM());
    finite(node, b.degreesOfFreedom());
    b.calibration()
        .ifPresent(
            c -> {
              ObjectNode k = node.putObject("countsPerKm").put("before", c.beforePerKm());
              c.afterPerKm().ifPresentOrElse(a -> k.put("after", a), () -> k.putNull("after"));
              k.put("used", c.usedPerKm());
            });
    ArrayNode terms = node.putArray("budget");
    for (Term t : b.terms()) {
      ObjectNode term =
          terms
              .addObject()
              .put("source", t.source().name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'))
              .put("name", MeasuredWords.of(t))
              .put("standardUncertaintyM", t.standardM())
              .put("share", b.share(t))
              .put("assumed", t.assumed());
      finite(term, t.degreesOfFreedom());
    }
    ArrayNode warnings = node.putArray("warnings");
    for (LengthBudget.Warning w : b.warnings())
      warnings
          .addObject()
          .put("code", w.kind().name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'))
          .put("message", MeasuredWords.of(w).sentence());
    return node;
  }

  // JSON has no infinity: null means that there is no end.
  private static void finite(ObjectNode node, double degreesOfFreedom) {
    if (Double.isFinite(degreesOfFreedom)) node.put("degreesOfFreedom", degreesOfFreedom);
    else node.putNull("degreesOfFreedom");
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
