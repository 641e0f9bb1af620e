package milewarden.store.keep;

import com.zaxxer.hikari.HikariDataSource;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.StoreUnavailable;
import milewarden.store.keep.Tables.Arrow;
import milewarden.store.keep.Tables.Table;
import milewarden.store.keep.Tables.Type;

/**
 * Carries a whole store over to another database, row by row under the same numbers: from SQLite to
 * PostgreSQL, back, or from one to its like. All of it arrives, or nothing.
 */
public final class StoreMove {
  private static final int ROWS = 500;
  // Rows with a recording's bytes are large: few in the memory at a time.
  private static final int ROWS_WITH_BYTES = 16;

  private final Connection from;
  private final Connection to;
  private long rows;

  private StoreMove(Connection from, Connection to) {
    this.from = from;
    this.to = to;
  }

  /**
   * What came of it.
   *
   * @param rows carried over; 0 where it was refused
   * @param refused why nothing was, as a sentence
   */
  public record Moved(long rows, Optional<String> refused) {}

  /**
   * Copies everything; the source is not changed.
   *
   * @param target an empty store; it is made where there is none
   * @throws StoreUnavailable where a database fails; the target then holds nothing
   */
  public static Moved copy(StoreSettings source, StoreSettings target, InstantSource clock) {
    if (!source.isThere())
      return new Moved(0, Optional.of("There is no store at " + source.where() + "."));
    if (source.where().equals(target.where()))
      return new Moved(0, Optional.of("That is where the store is already."));
    // Brings both to this version's tables.
    Database.open(source, clock).close();
    Database.open(target, clock).close();
    try (HikariDataSource reading = Database.reading(source);
        HikariDataSource writing = Database.writing(target);
        Connection from = reading.getConnection();
        Connection to = writing.getConnection()) {
      from.setAutoCommit(false);
      to.setAutoCommit(false);
      Tables tables = Tables.of(to);
      for (Table table : tables.all())
        if (count(to, table) > 0)
          return new Moved(
              0,
              Optional.of(
                  target.where() + " holds data already; name an empty database or folder."));
      StoreMove move = new StoreMove(from, to);
      for (Table table : tables.inOrderOfReference()) move.table(table);
      if (target.url().isPresent()) move.counters(tables);
      to.commit();
      from.rollback();
      return new Moved(move.rows, Optional.empty());
    } catch (SQLException e) {
      throw StoreUnavailable.behind(e, target.where())
          .orElseGet(() -> StoreUnavailable.unreachable(target.where(), e.toString(), e));
    }
  }

  private void table(Table table) throws SQLException {
    List<String> names = new ArrayList<>(table.columns().keySet());
    // What names a row of its own table may name a later one: it follows at the end.
    Map<String, Arrow> own = new LinkedHashMap<>();
    for (Arrow arrow : table.arrows()) if (arrow.isToItself()) own.put(arrow.column(), arrow);
    boolean large = table.columns().containsValue(Type.BYTES);
    int most = large ? ROWS_WITH_BYTES : ROWS;
    try (Statement read = from.createStatement();
        PreparedStatement write = to.prepareStatement(insert(table, names))) {
      read.setFetchSize(most);
      try (ResultSet all = read.executeQuery(select(table, names))) {
        int waiting = 0;
        while (all.next()) {
          for (int i = 0; i < names.size(); i++) {
            Type type = table.columns().get(names.get(i));
            if (own.containsKey(names.get(i))) write.setNull(i + 1, java.sql.Types.BIGINT);
            else hand(all, write, i + 1, type == null ? Type.TEXT : type);
          }
          write.addBatch();
          rows++;
          if (++waiting < most) continue;
          write.executeBatch();
          waiting = 0;
        }
        write.executeBatch();
      }
    }
    for (String column : own.keySet()) link(table, column);
  }

  private void link(Table table, String column) throws SQLException {
    String pairs =
        "select id, %s from %s where %s is not null order by id"
            .formatted(column, table.name(), column);
    String link = "update %s set %s = ? where id = ?".formatted(table.name(), column);
    try (Statement read = from.createStatement();
        PreparedStatement write = to.prepareStatement(link)) {
      read.setFetchSize(ROWS);
      try (ResultSet all = read.executeQuery(pairs)) {
        while (all.next()) {
          write.setLong(1, all.getLong(2));
          write.setLong(2, all.getLong(1));
          write.executeUpdate();
        }
      }
    }
  }

  private static void hand(ResultSet row, PreparedStatement write, int at, Type type)
      throws SQLException {
    row.getObject(at);
    if (row.wasNull()) {
      write.setNull(at, sqlType(type));
      return;
    }
    switch (type) {
      case NUMBER -> write.setLong(at, row.getLong(at));
      case REAL -> write.setDouble(at, row.getDouble(at));
      case TEXT -> write.setString(at, row.getString(at));
      case BYTES -> write.setBytes(at, row.getBytes(at));
      case FLAG -> write.setBoolean(at, row.getBoolean(at));
    }
  }

  private static int sqlType(Type type) {
    return switch (type) {
      case NUMBER -> java.sql.Types.BIGINT;
      case REAL -> java.sql.Types.DOUBLE;
      case TEXT -> java.sql.Types.VARCHAR;
      case BYTES -> java.sql.Types.BINARY;
      case FLAG -> java.sql.Types.BOOLEAN;
    };
  }

  // PostgreSQL counts on from where it was: behind the last number that came.
  private void counters(Tables tables) throws SQLException {
    for (Table table : tables.all()) {
      if (!table.hasId()) continue;
      String behind =
          "select setval(pg_get_serial_sequence('%1$s', 'id'), coalesce(max(id), 0) + 1, false) from %1$s"
              .formatted(table.name());
      try (Statement statement = to.createStatement()) {
        statement.execute(behind);
      }
    }
  }

  private static String select(Table table, List<String> names) {
    String order = table.hasId() ? " order by id" : "";
    return "select " + String.join(", ", names) + " from " + table.name() + order;
  }

  private static String insert(Table table, List<String> names) {
    return "insert into "
        + table.name()
        + " ("
        + String.join(", ", names)
        + ") values ("
        + "?, ".repeat(names.size() - 1)
        + "?)";
  }

  private static long count(Connection in, Table table) throws SQLException {
    try (Statement statement = in.createStatement();
        ResultSet answer = statement.executeQuery("select count(*) from " + table.name())) {
      return answer.next() ? answer.getLong(1) : 0;
    }
  }
}
