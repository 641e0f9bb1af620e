package milewarden.cli.export;

import java.math.BigDecimal;
import java.time.temporal.TemporalAccessor;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;

/**
 * One column of a table: its name, its unit, what it means and how a row gives it.
 *
 * @param unit as it stands behind a number: {@code m}, {@code %}; empty where it has none
 * @param cell the text of a row; empty where there is no value
 */
record Column<T>(String name, String unit, String meaning, Function<T, String> cell) {
  Column {
    if (name.isBlank() || meaning.isBlank())
      throw new IllegalArgumentException("a column without a name or a meaning: " + name);
  }

  /** Any value; an absent one is an empty cell, a moment is UTC as in ISO 8601. */
  static <T> Column<T> of(String name, String meaning, Function<T, Object> value) {
    return new Column<>(name, "", meaning, row -> text(value.apply(row)));
  }

  static <T> Column<T> of(String name, String unit, String meaning, Function<T, Object> value) {
    return new Column<>(name, unit, meaning, row -> text(value.apply(row)));
  }

  private static String text(Object value) {
    if (value instanceof Optional<?> o) return o.map(Column::text).orElse("");
    if (value instanceof OptionalDouble d) return d.isPresent() ? plain(d.getAsDouble()) : "";
    if (value instanceof Double d) return plain(d);
    if (value instanceof Enum<?> e) return e.name().toLowerCase(Locale.ROOT).replace('_', '-');
    if (value instanceof TemporalAccessor || value instanceof Number || value instanceof Boolean)
      return value.toString();
    return String.valueOf(value);
  }

  /** No exponent and every digit that tells the number from its neighbours; NaN is no value. */
  private static String plain(double value) {
    return Double.isNaN(value) ? "" : new BigDecimal(Double.toString(value)).toPlainString();
  }
}
