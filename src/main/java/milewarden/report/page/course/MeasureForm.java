package milewarden.report.page.course;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import milewarden.course.FieldSheetItems;

/**
 * A field sheet as it stands in the form: text as it was typed.
 *
 * @param values items with one value, by item
 * @param rides rows of {@code before}, {@code after}, {@code pass} and {@code other}
 */
public record MeasureForm(Map<String, String> values, Map<String, List<Ride>> rides) {
  /** Every field of one value: the sheet's items, and who changes the course and why. */
  public static final Set<String> ITEMS =
      Stream.concat(FieldSheetItems.SINGLE.stream(), Stream.of("author", "reason"))
          .collect(Collectors.toUnmodifiableSet());

  /** Rows that the rules of the trade ask for on each side. */
  private static final int ROWS = 4;

  private static final Ride BLANK = new Ride("", "", "", "", "", "");

  public MeasureForm {
    values = Map.copyOf(values);
    Map<String, List<Ride>> copy = new HashMap<>();
    rides.forEach((item, rows) -> copy.put(item, List.copyOf(rows)));
    rides = Map.copyOf(copy);
  }

  /** A row. */
  public record Ride(
      String value, String start, String end, String turns, String temperature, String note) {
    public boolean isBlank() {
      return (value + start + end + turns + temperature).isBlank();
    }
  }

  public String value(String item) {
    return values.getOrDefault(item, "");
  }

  public String method() {
    return value("method");
  }

  /** The rows of an item with blank ones behind them, at least {@code least}. */
  List<Ride> rows(String item, int least) {
    List<Ride> rows = new ArrayList<>(rides.getOrDefault(item, List.of()));
    int wanted = Math.max(least, rows.size() + (rows.size() >= least ? 1 : 0));
    while (rows.size() < wanted) rows.add(BLANK);
    return rows;
  }

  static int usualRows() {
    return ROWS;
  }

  /** The same with another value of one item. */
  public MeasureForm with(String item, String value) {
    Map<String, String> changed = new HashMap<>(values);
    changed.put(item, value);
    return new MeasureForm(changed, rides);
  }
}
