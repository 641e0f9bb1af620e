package milewarden.web;

import java.lang.reflect.RecordComponent;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.report.Status;
import milewarden.report.page.Strip;

/** The components of a page's records, and what of them stands in a cell. */
final class Parts {
  // Beyond a name, a value and a remark a list within a row is no cell any more.
  private static final int MOST_IN_A_CELL = 3;
  // What a spreadsheet would take for a formula: OWASP, CSV Injection. A signed number is none.
  private static final Pattern FORMULA = Pattern.compile("[=@\t\r]|[+-](?![\\d.∞])");

  // To ask a class for its components costs more than to read them all.
  private static final ClassValue<List<RecordComponent>> COMPONENTS =
      new ClassValue<>() {
        @Override
        protected List<RecordComponent> computeValue(Class<?> type) {
          RecordComponent[] all = type.getRecordComponents();
          for (RecordComponent each : all) each.getAccessor().setAccessible(true);
          return List.of(all);
        }
      };

  private Parts() {}

  static boolean isRecord(Object value) {
    return value instanceof Record && !(value instanceof Status);
  }

  static boolean isTable(List<?> list) {
    return !list.isEmpty()
        && isRecord(list.get(0))
        && COMPONENTS.get(list.get(0).getClass()).size() > MOST_IN_A_CELL;
  }

  /** The components that are lists, by name, in order. */
  static Map<String, List<?>> lists(Object rec) {
    Map<String, List<?>> lists = Map.of();
    for (RecordComponent part : COMPONENTS.get(rec.getClass()))
      if (List.class.isAssignableFrom(part.getType())) {
        if (lists.isEmpty()) lists = new LinkedHashMap<>();
        lists.put(part.getName(), (List<?>) value(part, rec));
      }
    return lists;
  }

  /** Components by name, in order. What only draws is left out. */
  static Map<String, Object> of(Object rec) {
    if (rec instanceof Strip s) {
      Map<String, Object> parts = new LinkedHashMap<>();
      parts.put("meanPercent", s.meanPercent());
      parts.put("lowPercent", s.lowPercent());
      parts.put("highPercent", s.highPercent());
      return parts;
    }
    Map<String, Object> parts = new LinkedHashMap<>();
    for (RecordComponent part : COMPONENTS.get(rec.getClass()))
      parts.put(part.getName(), value(part, rec));
    return parts;
  }

  private static Object value(RecordComponent part, Object rec) {
    try {
      return part.getAccessor().invoke(rec);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(part + " can't be read", e);
    }
  }

  static void cells(Map<String, String> row, String name, Object value) {
    if (value instanceof Optional<?> held) {
      if (held.isPresent()) cells(row, name, held.get());
      else row.put(name, "");
    } else if (isRecord(value)) {
      of(value).forEach((part, v) -> cells(row, name.isEmpty() ? part : name + "." + part, v));
    } else if (!(value instanceof List<?> list && isTable(list))) {
      row.put(name, cell(value));
    }
  }

  private static String cell(Object value) {
    String text = plain(words(value));
    return FORMULA.matcher(text).lookingAt() ? "'" + text : text;
  }

  private static String words(Object value) {
    if (value instanceof Status status) return status.word();
    if (value instanceof Optional<?> held) return held.map(Parts::words).orElse("");
    if (value instanceof OptionalDouble d) return d.isPresent() ? "" + d.getAsDouble() : "";
    if (value instanceof OptionalInt i) return i.isPresent() ? "" + i.getAsInt() : "";
    if (value instanceof List<?> list)
      return list.stream().map(Parts::words).collect(Collectors.joining("; "));
    if (isRecord(value))
      return of(value).values().stream().map(Parts::words).collect(Collectors.joining(" "));
    return value.toString();
  }

  /** A text as programs read it: the sign minus and the space are those of the keyboard. */
  static String plain(String text) {
    return text.replace('\u2212', '-').replace('\u00a0', ' ').replace('\u202f', ' ');
  }
}
