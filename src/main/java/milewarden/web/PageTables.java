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

  /** A record, and what it belongs to; empty text at the top. */
  private record Row(String of, Object item) {}

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
    if (!row.of().isEmpty()) cells.put("of", row.of());
    Parts.cells(cells, "", row.item());
    return cells;
  }

  private void walk(String name, Object value) {
    if (value instanceof Optional<?> held) held.ifPresent(v -> walk(name, v));
    else if (value instanceof List<?> list) table(name, "", list);
    else if (Parts.isRecord(value))
      Parts.of(value)
          .forEach((part, v) -> walk(name.isEmpty() ? kebab(part) : name + "-" + kebab(part), v));
  }

  private void table(String name, String of, List<?> items) {
    if (items.isEmpty() || !Parts.isRecord(items.get(0))) return;
    List<Row> rows = tables.computeIfAbsent(name, n -> new ArrayList<>());
    boolean deeper = Parts.holdsLists(items.get(0));
    for (Object item : items) {
      Row row = new Row(of, item);
      rows.add(row);
      if (deeper) within(name, row);
    }
  }

  private void within(String name, Row row) {
    String key = cells(row).values().stream().findFirst().orElse("");
    Parts.of(row.item())
        .forEach(
            (part, v) -> {
              if (v instanceof List<?> inner && Parts.isTable(inner))
                table(name + "-" + kebab(part), key, inner);
            });
  }

  private static String kebab(String camel) {
    return camel.replaceAll("([a-z])([A-Z])", "$1-$2").toLowerCase(Locale.ROOT);
  }
}
