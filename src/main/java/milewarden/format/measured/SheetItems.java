package milewarden.format.measured;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.course.FieldSheetIssue;
import milewarden.course.FieldSheetIssue.Kind;
import milewarden.format.fixes.IssueLog;
import milewarden.units.LengthUnit;

/**
 * The lines of a sheet by item: each is asked for once by name and range; what is missing or wrong
 * becomes an issue with its place.
 */
final class SheetItems {
  private static final Pattern WITH_UNIT = Pattern.compile("(\\S*[\\d.,])\\s*(\\p{Alpha}+)");
  private static final Pattern NUMBER = Pattern.compile("[+-]?(\\d+(\\.\\d*)?|\\.\\d+)");

  private final Map<String, SheetLine> single = new LinkedHashMap<>();
  private final Map<String, List<SheetLine>> repeated = new LinkedHashMap<>();
  private final Set<String> asked = new LinkedHashSet<>();
  private final List<FieldSheetIssue> issues = new ArrayList<>();
  private final boolean decimalComma;

  /**
   * @param many items that may stand more than once
   * @param known every item of any method
   */
  SheetItems(List<SheetLine> lines, Set<String> many, Set<String> known, boolean decimalComma) {
    this.decimalComma = decimalComma;
    for (SheetLine line : lines) {
      String item = line.item().strip().toLowerCase(Locale.ROOT).replace(' ', '_');
      if (many.contains(item)) {
        // A row of a blank sheet that nobody filled in.
        if (!line.isFilled()) continue;
        repeated.computeIfAbsent(item, k -> new ArrayList<>()).add(line);
      } else if (!known.contains(item)) {
        issue(Kind.UNKNOWN_ITEM, line.place(), line.item());
      } else if (line.value().isBlank()) {
        continue;
      } else if (single.putIfAbsent(item, line) != null) {
        issue(Kind.REPEATED_ITEM, line.place(), item);
      }
    }
  }

  List<FieldSheetIssue> issues() {
    return issues;
  }

  void issue(Kind kind, String place, String detail) {
    issues.add(new FieldSheetIssue(kind, place, IssueLog.shortened(detail)));
  }

  /** The lines of an item that may stand more than once. */
  List<SheetLine> all(String item) {
    asked.add(item);
    return repeated.getOrDefault(item, List.of());
  }

  Optional<SheetLine> find(String item) {
    asked.add(item);
    return Optional.ofNullable(single.get(item));
  }

  String text(String item) {
    return find(item).map(l -> l.value().strip()).orElse("");
  }

  OptionalDouble number(String item, double least, double most) {
    Optional<SheetLine> line = find(item);
    return line.isEmpty()
        ? OptionalDouble.empty()
        : number(line.get().value(), line.get().place(), item, least, most);
  }

  /** A length in metres, written as such or with its unit: {@code 100 ft}. */
  OptionalDouble length(String item, double leastM, double mostM) {
    Optional<SheetLine> line = find(item);
    return line.isEmpty()
        ? OptionalDouble.empty()
        : length(line.get().value(), line.get().place(), item, leastM, mostM);
  }

  /** A length that has to be there; the least where it is missing or wrong, with its issue. */
  double neededLength(String item, double leastM, double mostM) {
    if (find(item).isEmpty()) {
      issue(Kind.MISSING_ITEM, "", item);
      return leastM;
    }
    return length(item, leastM, mostM).orElse(leastM);
  }

  OptionalInt whole(String item, int least, int most) {
    OptionalDouble number = number(item, least, most);
    if (number.isEmpty()) return OptionalInt.empty();
    double value = number.getAsDouble();
    if (value == Math.rint(value)) return OptionalInt.of((int) value);
    issue(Kind.NOT_A_NUMBER, find(item).orElseThrow().place(), item + " " + value);
    return OptionalInt.empty();
  }

  /** A cell's number; empty with an issue where it is none or out of range. */
  OptionalDouble number(String text, String place, String item, double least, double most) {
    return within(text, place, item, least, most, parse(text.strip()));
  }

  /** A cell's length in metres, written as such or with its unit. */
  OptionalDouble length(String text, String place, String item, double leastM, double mostM) {
    Matcher m = WITH_UNIT.matcher(text.strip());
    Optional<LengthUnit> unit = m.matches() ? LengthUnit.of(m.group(2)) : Optional.empty();
    Optional<Double> value =
        unit.isEmpty() ? parse(text.strip()) : parse(m.group(1)).map(v -> v * unit.get().metres());
    return within(text, place, item, leastM, mostM, value);
  }

  private OptionalDouble within(
      String text, String place, String item, double least, double most, Optional<Double> value) {
    if (text.isBlank()) return OptionalDouble.empty();
    if (value.isEmpty()) {
      issue(Kind.NOT_A_NUMBER, place, item + " " + text.strip());
      return OptionalDouble.empty();
    }
    if (value.get() >= least && value.get() <= most) return OptionalDouble.of(value.get());
    issue(
        Kind.OUT_OF_RANGE,
        place,
        String.format(
            Locale.ROOT, "%s %s: from %s to %s", item, text.strip(), plain(least), plain(most)));
    return OptionalDouble.empty();
  }

  private static String plain(double bound) {
    return bound == Math.rint(bound) ? Long.toString((long) bound) : Double.toString(bound);
  }

  /** The comma of a number is its point, where it can't part thousands. */
  private Optional<Double> parse(String text) {
    String plain = text;
    int comma = text.indexOf(',');
    if (comma >= 0) {
      boolean thousands = !decimalComma && text.length() - comma - 1 == 3;
      if (thousands || text.indexOf('.') >= 0 || text.indexOf(',', comma + 1) >= 0)
        return Optional.empty();
      plain = text.replace(',', '.');
    }
    return NUMBER.matcher(plain).matches()
        ? Optional.of(Double.parseDouble(plain))
        : Optional.empty();
  }

  Optional<LocalDate> date(String item) {
    Optional<SheetLine> line = find(item);
    if (line.isEmpty()) return Optional.empty();
    try {
      return Optional.of(LocalDate.parse(line.get().value().strip()));
    } catch (DateTimeException e) {
      issue(Kind.BAD_DATE, line.get().place(), line.get().value());
      return Optional.empty();
    }
  }

  Optional<Boolean> yes(String item) {
    Optional<SheetLine> line = find(item);
    if (line.isEmpty()) return Optional.empty();
    switch (line.get().value().strip().toLowerCase(Locale.ROOT)) {
      case "yes", "y", "true":
        return Optional.of(true);
      case "no", "n", "false":
        return Optional.of(false);
      default:
        issue(Kind.YES_OR_NO, line.get().place(), item + " " + line.get().value());
        return Optional.empty();
    }
  }

  /** Reports every line that nothing asked for: it belongs to another method. */
  void reportUnasked() {
    single.forEach(
        (item, line) -> {
          if (!asked.contains(item)) issue(Kind.OTHER_METHODS_ITEM, line.place(), item);
        });
    repeated.forEach(
        (item, lines) -> {
          if (!asked.contains(item)) issue(Kind.OTHER_METHODS_ITEM, lines.get(0).place(), item);
        });
  }
}
