package milewarden.cli.export;

import java.io.IOException;
import java.io.Writer;
import java.util.List;
import java.util.regex.Pattern;

/**
 * A file of comma-separated values: a row of names, a row for each item.
 *
 * @see "RFC 4180"
 */
record Table<T>(String file, List<Column<T>> columns) {
  private static final Pattern NEEDS_QUOTES = Pattern.compile("[\",\r\n]");

  Table {
    columns = List.copyOf(columns);
    long names = columns.stream().map(c -> c.name()).distinct().count();
    if (names != columns.size()) throw new IllegalArgumentException("a name twice in " + file);
  }

  void head(Writer to) throws IOException {
    line(to, columns.stream().map(c -> c.name()).toList());
  }

  void rows(Writer to, List<T> items) throws IOException {
    for (T item : items) line(to, columns.stream().map(c -> c.cell().apply(item)).toList());
  }

  static void line(Writer to, List<String> cells) throws IOException {
    String between = "";
    for (String cell : cells) {
      to.write(between);
      to.write(NEEDS_QUOTES.matcher(cell).find() ? '"' + cell.replace("\"", "\"\"") + '"' : cell);
      between = ",";
    }
    to.write("\r\n");
  }
}
