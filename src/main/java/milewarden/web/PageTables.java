package milewarden.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvSchema;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The tables of a page's record: each list of records in it is one, named by the components that
 * lead to it. A list within a row is a table of its own where it has more than a name and a value;
 * its first column then says of which row.
 */
final class PageTables {
  private static final CsvMapper CSV = new CsvMapper();

  private final Map<String, List<Row>> tables = new LinkedHashMap<>();

  /** A record, and the row that it belongs to; none at the top. */
  private record Row(Optional<Row> of, Object item) {}

  private PageTables() {}

  static PageTables of(Object page) {
    PageTables found = new PageTables();
    found.walk("", page);
    return found;
  }

  /** Names in the order of the page. */
  List<String> names() {
    return List.copyOf(tables.keySet());
  }

  /** A table with a row of names, by RFC 4180; empty where the page has none of this name. */
  Optional<String> csv(String name) {
    return Optional.ofNullable(tables.get(name))
        .map(rows -> csv(rows.stream().map(PageTables::cells).toList()));
  }

  private static String csv(Collection<Map<String, String>> rows) {
    Set<String> columns = new LinkedHashSet<>();
    for (Map<String, String> row : rows) columns.addAll(row.keySet());
    CsvSchema.Builder schema = CsvSchema.builder().setUseHeader(true).setLineSeparator("\r\n");
    columns.forEach(schema::addColumn);
    try {
      return CSV.writer(schema.build()).writeValueAsString(rows);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("the rows " + columns, e);
    }
  }

  private static Map<String, String> cells(Row row) {
    Map<String, String> cells = new LinkedHashMap<>();
    row.of()
        .map(PageTables::name)
        .filter(name -> !name.isEmpty())
        .ifPresent(n -> cells.put("of", n));
    Parts.cells(cells, "", row.item());
    return cells;
  }

  private static String name(Row row) {
    return cells(row).values().stream().findFirst().orElse("");
  }

  private void walk(String name, Object value) {
    if (value instanceof Optional<?> held) held.ifPresent(v -> walk(name, v));
    else if (value instanceof List<?> list) table(name, Optional.empty(), list);
    else if (Parts.isRecord(value))
      Parts.of(value)
          .forEach((part, v) -> walk(name.isEmpty() ? kebab(part) : name + "-" + kebab(part), v));
  }

  private void table(String name, Optional<Row> of, List<?> items) {
    if (items.isEmpty() || !Parts.isRecord(items.get(0))) return;
    List<Row> rows = tables.computeIfAbsent(name, n -> new ArrayList<>());
    for (Object item : items) {
      Row row = new Row(of, item);
      rows.add(row);
      Parts.lists(item)
          .forEach(
              (part, inner) -> {
                if (Parts.isTable(inner)) table(name + "-" + kebab(part), Optional.of(row), inner);
              });
    }
  }

  private static String kebab(String camel) {
    return camel.replaceAll("([a-z])([A-Z])", "$1-$2").toLowerCase(Locale.ROOT);
  }
}
