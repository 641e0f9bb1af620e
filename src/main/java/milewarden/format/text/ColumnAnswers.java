package milewarden.format.text;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a tester says of a table's doubtful columns: {@code 5=km; 7=skip; dates=day-first}.
 *
 * @param columns by the column's number from 1: a unit of its values, {@code use} or {@code skip}
 * @param monthFirst whether the first number of {@code 5/11/2026} is the month
 */
public record ColumnAnswers(Map<Integer, String> columns, Optional<Boolean> monthFirst) {
  public static final ColumnAnswers NONE = new ColumnAnswers(Map.of(), Optional.empty());

  /** The column is taken, and an earlier one for the same is not. */
  static final String USE = "use";

  /** The column is not looked at. */
  static final String SKIP = "skip";

  private static final Pattern COLUMN = Pattern.compile("(\\d{1,3})\\s*=\\s*(\\S+)");
  private static final Pattern DATES = Pattern.compile("dates?\\s*=\\s*(day|month)[ -]first");

  public ColumnAnswers {
    columns = Map.copyOf(columns);
  }

  /** Empty where a part of it is not of that form. */
  public static Optional<ColumnAnswers> of(String text) {
    Map<Integer, String> columns = new LinkedHashMap<>();
    Optional<Boolean> monthFirst = Optional.empty();
    for (String part : text.toLowerCase(Locale.ROOT).split("[;\n]", -1)) {
      if (part.isBlank()) continue;
      Matcher column = COLUMN.matcher(part.strip());
      Matcher dates = DATES.matcher(part.strip());
      if (dates.matches()) monthFirst = Optional.of(dates.group(1).equals("month"));
      else if (column.matches() && isAnswer(column.group(2)))
        columns.put(Integer.valueOf(column.group(1)), column.group(2));
      else return Optional.empty();
    }
    return columns.isEmpty() && monthFirst.isEmpty()
        ? Optional.empty()
        : Optional.of(new ColumnAnswers(columns, monthFirst));
  }

  private static boolean isAnswer(String text) {
    return text.equals(USE) || text.equals(SKIP) || Columns.isUnit(text);
  }

  /** What is said of a column, from 0. */
  Optional<String> at(int index) {
    return Optional.ofNullable(columns.get(index + 1));
  }
}
