package milewarden.store.tables;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.zip.CRC32;
import javax.sql.DataSource;

/**
 * What Flyway would do at nearly every start, without it: to see that nothing is to be done, and to
 * make the tables of an empty file. To load and run it took two fifths of the time until the first
 * page. Whatever is neither of the two is left to it, and it finds the record of the steps here as
 * it would have written it.
 */
public final class Steps {
  // As Flyway makes it on SQLite; a test holds them side by side.
  private static final List<String> RECORD =
      List.of(
          """
          CREATE TABLE "flyway_schema_history" (
              "installed_rank" INT NOT NULL PRIMARY KEY,
              "version" VARCHAR(50),
              "description" VARCHAR(200) NOT NULL,
              "type" VARCHAR(20) NOT NULL,
              "script" VARCHAR(1000) NOT NULL,
              "checksum" INT,
              "installed_by" VARCHAR(100) NOT NULL,
              "installed_on" TEXT NOT NULL DEFAULT (strftime('%Y-%m-%d %H:%M:%f','now')),
              "execution_time" INT NOT NULL,
              "success" BOOLEAN NOT NULL
          )""",
          """
          CREATE INDEX "flyway_schema_history_s_idx" ON "flyway_schema_history" ("success")""");
  private static final String DONE =
      """
      select script, checksum, success from flyway_schema_history order by installed_rank""";
  private static final String ADD =
      """
      insert into flyway_schema_history (installed_rank, version, description, type, script,
                                         checksum, installed_by, execution_time, success)
      values (?, ?, ?, 'SQL', ?, ?, '', 0, 1)""";

  private Steps() {}

  /** A step that was taken, by its name and the sum of its text. */
  private record Taken(String name, int checksum) {}

  /** Whether all of them were taken, as they are written here, and no other. */
  public static boolean allTaken(DataSource source) {
    try (Connection connection = source.getConnection();
        Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(DONE)) {
      List<Taken> taken = new ArrayList<>();
      while (rows.next()) {
        if (!rows.getBoolean("success")) return false;
        taken.add(new Taken(rows.getString("script"), rows.getInt("checksum")));
      }
      return taken.equals(
          MigrationFiles.NAMES.stream()
              .map(n -> new Taken(n, checksum(MigrationFiles.text(n))))
              .toList());
    } catch (SQLException e) {
      // There is no record, or it can't be read: Flyway sees to it, or says what is wrong.
      return false;
    }
  }

  /**
   * Makes the tables where the file of SQLite is empty, all or none.
   *
   * @return false where it isn't: nothing is done then
   */
  public static boolean makeInEmptyFile(DataSource source, Map<String, String> dialect)
      throws SQLException {
    try (Connection connection = source.getConnection()) {
      connection.setAutoCommit(false);
      try (Statement statement = connection.createStatement()) {
        if (!isEmpty(statement)) return false;
        // The driver hands a text of several statements to SQLite as it is.
        for (String sql : RECORD) statement.executeUpdate(sql);
        for (String name : MigrationFiles.NAMES)
          statement.executeUpdate(inDialect(MigrationFiles.text(name), dialect));
        record(connection);
        connection.commit();
        return true;
      } finally {
        connection.rollback();
      }
    }
  }

  private static boolean isEmpty(Statement statement) throws SQLException {
    try (ResultSet rows = statement.executeQuery("select count(*) from sqlite_master")) {
      return rows.next() && rows.getInt(1) == 0;
    }
  }

  private static String inDialect(String text, Map<String, String> dialect) {
    String sql = text;
    for (Map.Entry<String, String> word : dialect.entrySet())
      sql = sql.replace("${" + word.getKey() + "}", word.getValue());
    return sql;
  }

  private static void record(Connection connection) throws SQLException {
    try (PreparedStatement add = connection.prepareStatement(ADD)) {
      int rank = 1;
      for (String name : MigrationFiles.NAMES) {
        int end = name.indexOf("__");
        add.setInt(1, rank++);
        add.setString(2, name.substring(1, end));
        add.setString(
            3, name.substring(end + 2, name.length() - ".sql".length()).replace('_', ' '));
        add.setString(4, name);
        add.setInt(5, checksum(MigrationFiles.text(name)));
        add.executeUpdate();
      }
    }
  }

  /** Flyway's: a CRC-32 of the lines without their ends. */
  private static int checksum(String text) {
    CRC32 sum = new CRC32();
    text.lines().forEach(l -> sum.update(l.getBytes(UTF_8)));
    return (int) sum.getValue();
  }
}
