package milewarden.app;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * Makes a store as large as a lab's by copying what a server wrote into it: every session, run and
 * result again on another day, with names and keys of their own. All models are to be judged then.
 */
final class LabCopies {
  private static final int MINUTES_OF_A_DAY = 1440;

  private LabCopies() {}

  /**
   * @param store a SQLite file that no server has open
   * @param runs how many there are to be at least
   * @param days over which the copies are spread
   */
  static void make(Path store, int runs, int days) throws SQLException {
    try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + store);
        Statement s = c.createStatement()) {
      s.execute("pragma foreign_keys = off");
      c.setAutoCommit(false);
      long there = number(s, "select count(*) from run");
      long copies = (runs + there - 1) / there - 1;
      long step =
          1
              + number(
                  s,
                  "select max(top) from (select max(id) as top from result union all select max(id)"
                      + " from received_file union all select max(id) from session)");
      for (long k = 1; k <= copies; k++) copy(s, k, step, days * MINUTES_OF_A_DAY * k / copies);
      s.executeUpdate(
          "insert or ignore into mark (model_id, generation, quiet, marked_at)"
              + " select id, 1, true, added_at from model");
      c.commit();
    }
  }

  private static void copy(Statement s, long k, long step, long minutes) throws SQLException {
    String id = plus("id", k * step);
    String run = plus("run_id", k * step);
    String file = plus("file_id", k * step);
    String session = plus("session_id", k * step);
    String name = "name || '-" + k + "'";
    String start = later("started_at", minutes);
    copy(
        s,
        "session",
        step,
        Map.of(
            "id",
            id,
            "name",
            name,
            "first_start",
            later("first_start", minutes),
            "last_start",
            later("last_start", minutes),
            "local_date",
            "substr(" + later("first_start", minutes) + ", 1, 10)"));
    copy(s, "received_file", step, Map.of("id", id, "path", "'" + k + "/' || path"));
    copy(s, "tag", step, Map.of("file_id", file));
    copy(
        s,
        "run",
        step,
        Map.of(
            "id", id,
            "file_id", file,
            "session_id", session,
            "row_session", "row_session || '-" + k + "'",
            "started_at", start,
            "ended_at", later("ended_at", minutes)));
    copy(s, "measurement", step, Map.of("id", id, "run_id", run));
    copy(
        s,
        "result",
        step,
        Map.of("id", id, "measurement_id", plus("measurement_id", k * step), "started_at", start));
  }

  private static String plus(String column, long n) {
    return column + " + " + n;
  }

  /** An instant as the store writes it. */
  private static String later(String column, long minutes) {
    return "strftime('%Y-%m-%dT%H:%M:%fZ', " + column + ", '+" + minutes + " minutes')";
  }

  /** Copies the rows that were there at first, which have the smallest keys. */
  private static void copy(Statement s, String table, long step, Map<String, String> changed)
      throws SQLException {
    List<String> columns = new ArrayList<>();
    List<String> values = new ArrayList<>();
    try (ResultSet all = s.executeQuery("select name from pragma_table_info('" + table + "')")) {
      while (all.next()) columns.add(all.getString(1));
    }
    for (String column : columns) values.add(changed.getOrDefault(column, column));
    String key = columns.contains("id") ? "id" : "file_id";
    s.executeUpdate(
        "insert into "
            + table
            + " ("
            + String.join(", ", columns)
            + ") select "
            + String.join(", ", values)
            + " from "
            + table
            + " where "
            + key
            + " < "
            + step);
  }

  private static long number(Statement s, String sql) throws SQLException {
    try (ResultSet r = s.executeQuery(sql)) {
      r.next();
      return r.getLong(1);
    }
  }
}
