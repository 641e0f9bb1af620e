package milewarden.format.measured;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import milewarden.course.FieldSheet;
import milewarden.course.FieldSheet.Certified;
import milewarden.course.FieldSheet.Count;
import milewarden.course.FieldSheet.Counted;
import milewarden.course.FieldSheet.Other;
import milewarden.course.FieldSheet.Taped;
import milewarden.course.FieldSheet.Taping;
import milewarden.course.FieldSheetIssue;
import milewarden.course.FieldSheetIssue.Kind;
import milewarden.course.FieldSheetItems;
import milewarden.course.FieldSheetRead;
import milewarden.course.Method;

/** Lines of a field sheet become the sheet; everything wrong is reported at once. */
public final class SheetLines {
  /** No course is longer: against a length in other units than metres. */
  private static final double LONGEST_M = 1_000_000;

  private static final double LARGEST_COUNT = 1e12;
  private static final double COLDEST_C = -60;
  private static final double HOTTEST_C = 80;

  private final SheetItems items;

  private SheetLines(SheetItems items) {
    this.items = items;
  }

  /**
   * The sheet of these lines.
   *
   * @param decimalComma whether a comma in a number can't part thousands
   */
  public static FieldSheetRead read(List<SheetLine> lines, boolean decimalComma) {
    return read(lines, decimalComma, List.of());
  }

  static FieldSheetRead read(
      List<SheetLine> lines, boolean decimalComma, List<FieldSheetIssue> before) {
    SheetItems items =
        new SheetItems(
            lines,
            Set.copyOf(FieldSheetItems.REPEATED),
            Set.copyOf(FieldSheetItems.SINGLE),
            decimalComma);
    Optional<FieldSheet> sheet = new SheetLines(items).sheet();
    List<FieldSheetIssue> issues = new ArrayList<>(before);
    issues.addAll(items.issues());
    return sheet.isPresent() && issues.isEmpty()
        ? new FieldSheetRead.Usable(sheet.get())
        : new FieldSheetRead.Refused(issues);
  }

  private Optional<FieldSheet> sheet() {
    Optional<FieldSheet.Readings> readings = readings();
    Optional<java.time.LocalDate> day = items.date("measured_on");
    String by = items.text("measured_by");
    OptionalDouble marks = items.length("marks_m", 0, 10);
    FieldSheet.Path path =
        new FieldSheet.Path(
            items.length("path_offset_m", 0, 50), items.number("net_turns", -1000, 1000));
    List<Other> others = new ArrayList<>();
    for (SheetLine line : items.all("other"))
      items
          .length(line.value(), line.place(), "other", 0, LONGEST_M)
          .ifPresent(u -> others.add(new Other(line.note().strip(), u)));
    if (items.find("method").isPresent()) items.reportUnasked();
    return items.issues().isEmpty()
        ? readings.map(r -> new FieldSheet(r, path, marks, others, day, by))
        : Optional.empty();
  }

  private Optional<FieldSheet.Readings> readings() {
    Optional<SheetLine> method = items.find("method");
    if (method.isEmpty()) {
      items.issue(Kind.MISSING_ITEM, "", "method");
      return Optional.empty();
    }
    String name = method.get().value().strip();
    if (name.equalsIgnoreCase("certificate")) return certified();
    Optional<Method> known = Method.of(name);
    if (known.filter(m -> m == Method.WHEEL || m == Method.CALIBRATED_BICYCLE).isPresent())
      return counted(known.get());
    if (known.filter(m -> m == Method.STEEL_TAPE).isPresent()) return taped();
    items.issue(Kind.UNKNOWN_METHOD, method.get().place(), name);
    return Optional.empty();
  }

  private Optional<FieldSheet.Readings> counted(Method method) {
    noFactor();
    double calibration = items.neededLength("calibration_m", 1, LONGEST_M);
    OptionalDouble uncertainty = items.length("calibration_uncertainty_m", 0, 100);
    OptionalInt digits = items.whole("counter_digits", 1, 9);
    double step = items.number("count_step", 1e-6, 1e6).orElse(1);
    OptionalDouble expansion = perDegree();
    OptionalDouble about = items.length("about_m", 1, LONGEST_M);
    List<Count> before = counts("before", digits);
    List<Count> after = counts("after", digits);
    List<Count> passes = counts("pass", digits);
    if (items.all("before").isEmpty()) items.issue(Kind.NO_RIDES_BEFORE, "", "");
    if (items.all("pass").isEmpty()) items.issue(Kind.NO_PASSES, "", "");
    if (!items.issues().isEmpty()) return Optional.empty();
    return Optional.of(
        new Counted(
            method,
            calibration,
            uncertainty,
            digits,
            step,
            expansion,
            about,
            before,
            after,
            passes));
  }

  private OptionalDouble perDegree() {
    OptionalDouble millionths = items.number("expansion_ppm", 0, 1000);
    return millionths.isPresent()
        ? OptionalDouble.of(millionths.getAsDouble() * 1e-6)
        : OptionalDouble.empty();
  }

  private List<Count> counts(String item, OptionalInt digits) {
    List<Count> counts = new ArrayList<>();
    for (SheetLine line : items.all(item)) {
      OptionalDouble start = items.number(line.start(), line.place(), "start", 0, LARGEST_COUNT);
      OptionalDouble end = items.number(line.end(), line.place(), "end", 0, LARGEST_COUNT);
      OptionalDouble turns = items.number(line.turns(), line.place(), "turns", 0, 1000);
      OptionalDouble warm = temperature(line);
      if (line.start().isBlank() || line.end().isBlank()) {
        items.issue(Kind.HALF_A_READING, line.place(), item);
        continue;
      }
      if (turns.isPresent() && turns.getAsDouble() != Math.rint(turns.getAsDouble()))
        items.issue(Kind.NOT_A_NUMBER, line.place(), "turns " + line.turns().strip());
      if (start.isEmpty() || end.isEmpty()) continue;
      boolean back = end.getAsDouble() <= start.getAsDouble();
      if (back && (digits.isEmpty() || turns.isPresent() && turns.getAsDouble() < 1)) {
        items.issue(
            Kind.COUNTER_WENT_BACK,
            line.place(),
            line.start().strip() + " to " + line.end().strip());
        continue;
      }
      if (turns.isPresent() && turns.getAsDouble() > 0 && digits.isEmpty()) {
        items.issue(Kind.MISSING_ITEM, line.place(), "counter_digits");
        continue;
      }
      counts.add(
          new Count(
              start.getAsDouble(),
              end.getAsDouble(),
              turns.isPresent()
                  ? OptionalInt.of((int) Math.rint(turns.getAsDouble()))
                  : OptionalInt.empty(),
              warm));
    }
    return counts;
  }

  private OptionalDouble temperature(SheetLine line) {
    return items.number(line.temperature(), line.place(), "temperature_c", COLDEST_C, HOTTEST_C);
  }

  private Optional<FieldSheet.Readings> taped() {
    noFactor();
    double nominal = items.neededLength("tape_nominal_m", 0.1, 1000);
    double certified = items.length("tape_certified_m", 0.1, 1000).orElse(nominal);
    OptionalDouble uncertainty = items.length("tape_uncertainty_m", 0, 1);
    double reference =
        items.number("certificate_temperature_c", COLDEST_C, HOTTEST_C).orElse(Taped.REFERENCE_C);
    OptionalDouble laying = items.length("laying_uncertainty_m", 0, 1);
    double expansion = perDegree().orElse(Taped.STEEL);
    List<Taping> passes = new ArrayList<>();
    for (SheetLine line : items.all("pass")) {
      OptionalDouble raw = items.length(line.value(), line.place(), "value", 0.1, LONGEST_M);
      OptionalDouble warm = temperature(line);
      if (line.value().isBlank()) items.issue(Kind.HALF_A_READING, line.place(), "pass");
      if (raw.isPresent()) passes.add(new Taping(raw.getAsDouble(), warm));
    }
    if (items.all("pass").isEmpty()) items.issue(Kind.NO_PASSES, "", "");
    if (!items.issues().isEmpty()) return Optional.empty();
    return Optional.of(
        new Taped(nominal, certified, uncertainty, reference, expansion, laying, passes));
  }

  private Optional<FieldSheet.Readings> certified() {
    double figure = items.neededLength("certified_m", 1, LONGEST_M);
    Optional<Boolean> factor = items.yes("safety_factor");
    if (items.find("safety_factor").isEmpty()) items.issue(Kind.FACTOR_NOT_ANSWERED, "", "");
    if (!items.issues().isEmpty()) return Optional.empty();
    return factor.map(carries -> new Certified(figure, carries));
  }

  /** Counts and tape lengths are what they are: a factor belongs to a certificate. */
  private void noFactor() {
    Optional<SheetLine> line = items.find("safety_factor");
    if (items.yes("safety_factor").orElse(false))
      items.issue(Kind.FACTOR_WITH_READINGS, line.orElseThrow().place(), "");
  }
}
