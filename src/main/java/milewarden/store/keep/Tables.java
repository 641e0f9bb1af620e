package milewarden.store.keep;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** The store's tables as the database itself describes them: those that hold something kept. */
record Tables(List<Table> all) {
  Tables {
    all = List.copyOf(all);
  }

  // Not those of the migrations and of the database itself, nor what tells who works here now.
  private static final Predicate<String> OURS =
      Pattern.compile("(?!flyway_|sqlite_|qrtz_)(?!station$).*", Pattern.CASE_INSENSITIVE)
          .asMatchPredicate();

  /** How a column's values are handed over from one database to the other. */
  enum Type {
    NUMBER,
    REAL,
    TEXT,
    BYTES,
    FLAG
  }

  /** A column that names a row of another table, or of its own. */
  record Arrow(String table, String column, String toTable, String toColumn) {
    boolean isToItself() {
      return table.equals(toTable);
    }
  }

  /** A table with its columns in their order and its references. */
  record Table(String name, Map<String, Type> columns, List<Arrow> arrows) {
    Table {
      columns = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(columns));
      arrows = List.copyOf(arrows);
    }

    boolean hasId() {
      return columns.containsKey("id");
    }
  }

  static Tables of(Connection connection) throws SQLException {
    DatabaseMetaData data = connection.getMetaData();
    String schema = connection.getSchema();
    List<Table> tables = new ArrayList<>();
    for (String name : names(data, schema))
      tables.add(new Table(name, columns(data, schema, name), arrows(data, schema, name)));
    return new Tables(tables);
  }

  /** What a table refers to stands before it. */
  List<Table> inOrderOfReference() {
    List<Table> left = new ArrayList<>(all);
    List<Table> ordered = new ArrayList<>();
    Set<String> placed = new LinkedHashSet<>();
    while (!left.isEmpty()) {
      List<Table> next =
          left.stream()
              .filter(
                  t ->
                      t.arrows().stream()
                          .allMatch(a -> a.isToItself() || placed.contains(a.toTable())))
              .toList();
      if (next.isEmpty()) throw new IllegalStateException("tables refer in a circle: " + left);
      next.forEach(t -> placed.add(t.name()));
      ordered.addAll(next);
      left.removeAll(next);
    }
    return ordered;
  }

  Set<String> names() {
    return all.stream().map(Table::name).collect(Collectors.toSet());
  }

  private static List<String> names(DatabaseMetaData data, String schema) throws SQLException {
    List<String> names = new ArrayList<>();
    try (ResultSet rows = data.getTables(null, schema, "%", new String[] {"TABLE"})) {
      while (rows.next()) {
        String name = rows.getString("TABLE_NAME");
        if (OURS.test(name)) names.add(name);
      }
    }
    return names;
  }

  private static Map<String, Type> columns(DatabaseMetaData data, String schema, String table)
      throws SQLException {
    Map<String, Type> columns = new LinkedHashMap<>();
    try (ResultSet rows = data.getColumns(null, schema, table, "%")) {
      while (rows.next())
        columns.put(rows.getString("COLUMN_NAME"), type(rows.getString("TYPE_NAME")));
    }
    return columns;
  }

  // The names of both databases: int8, bigserial, integer; float8, double precision; bool; bytea.
  private static Type type(String name) {
    String lower = name.toLowerCase(Locale.ROOT);
    if (lower.contains("bool")) return Type.FLAG;
    if (lower.contains("bytea") || lower.contains("blob")) return Type.BYTES;
    if (lower.contains("float") || lower.contains("double") || lower.contains("real"))
      return Type.REAL;
    if (lower.contains("int") || lower.contains("serial")) return Type.NUMBER;
    return Type.TEXT;
  }

  private static List<Arrow> arrows(DatabaseMetaData data, String schema, String table)
      throws SQLException {
    List<Arrow> arrows = new ArrayList<>();
    try (ResultSet keys = data.getImportedKeys(null, schema, table)) {
      while (keys.next())
        arrows.add(
            new Arrow(
                table,
                keys.getString("FKCOLUMN_NAME"),
                keys.getString("PKTABLE_NAME"),
                keys.getString("PKCOLUMN_NAME")));
    }
    return arrows;
  }
}
