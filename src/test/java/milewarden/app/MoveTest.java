package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import milewarden.cli.Exit;
import milewarden.store.Database;
import milewarden.store.run.Runs;
import milewarden.store.keep.StoreCheck;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store carried over to PostgreSQL and back is the same to the last digit, and goes on. */
final class MoveTest {
  private static final List<String> TABLES =
      List.of(
          "content",
          "batch",
          "received_file",
          "tag",
          "sheet_row",
          "course_version",
          "model",
          "unit",
          "firmware",
          "session",
          "run",
          "measurement",
          "result",
          "judgement",
          "comparison",
          "due_item",
          "due_event",
          "verdict",
          "capsule",
          "outbox");

  @TempDir Path folder;
  @TempDir Path elsewhere;

  @Test
  void everyRowArrivesThereAndBackAndWorkGoesOn() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
    }
    StoreSettings sqlite = season.config.store();
    Map<String, List<String>> before = rows(sqlite);
    assertThat(before.get("run")).hasSize(9);
    assertThat(before.get("verdict")).hasSize(1);

    StoreSettings postgres = TestStores.POSTGRES.fresh(folder.resolve("data"));
    Path password = Files.writeString(folder.resolve("password"), "asked for by nobody");
    StringWriter out = new StringWriter();
    int code =
        season.command(
            out,
            "move",
            "--to",
            postgres.url().orElseThrow(),
            "--user",
            "postgres",
            "--password-file",
            password.toString());
    assertThat(code).as(out.toString()).isEqualTo(Exit.DONE);
    assertThat(rows(postgres)).isEqualTo(before);
    assertThat(rows(sqlite)).as("the source").isEqualTo(before);

    Season there = new Season(folder, postgres);
    StringWriter second = new StringWriter();
    int again = season.command(second, "move", "--to", elsewhere.resolve("a").toString());
    assertThat(again).as(second.toString()).isEqualTo(Exit.DONE);
    StoreSettings back = StoreSettings.in(elsewhere.resolve("a"));
    assertThat(rows(back)).isEqualTo(before);
    assertThat(StoreCheck.check(back, InstantSource.system()).findings()).isEmpty();

    // The numbers go on behind those that came.
    try (Database database = there.look();
        App app = new App(there.config, InstantSource.system()).start()) {
      assertThat(app.port()).isPositive();
      there.house.drop("later/late.gpx", Household.track(Household.day(11), 6));
      there.house.dropSheet(
          "later/session.csv", Household.row("N2", Household.day(11), "late.gpx", "2.0", "0.401"));
      Await.until("the tenth run", () -> "", () -> database.read(Runs::count) == 10);
      Season.atRest(database);
    }
    assertThat(StoreCheck.check(postgres, InstantSource.system()).findings()).isEmpty();
    StringWriter full = new StringWriter();
    int refused = there.command(full, "move", "--to", elsewhere.resolve("a").toString());
    assertThat(refused).isEqualTo(Exit.WRONG_USE);
    assertThat(full.toString()).contains("holds data already");
  }

  private static Map<String, List<String>> rows(StoreSettings store) throws Exception {
    Map<String, List<String>> rows = new TreeMap<>();
    try (Connection c =
            store.url().isPresent()
                ? DriverManager.getConnection(store.url().get(), "postgres", "")
                : DriverManager.getConnection(
                    "jdbc:sqlite:" + store.data().resolve("milewarden.db"));
        Statement s = c.createStatement()) {
      for (String table : TABLES) rows.put(table, rows(s, table));
    }
    return rows;
  }

  private static List<String> rows(Statement s, String table) throws Exception {
    List<String> rows = new ArrayList<>();
    try (ResultSet r = s.executeQuery("select * from " + table)) {
      int columns = r.getMetaData().getColumnCount();
      while (r.next()) {
        String[] row = new String[columns];
        for (int i = 1; i <= columns; i++) row[i - 1] = text(r, i);
        rows.add(String.join("|", row));
      }
    }
    rows.sort(null);
    return rows;
  }

  // Booleans are 1 and 0 in one, true and false in the other; bytes are told by their digits.
  private static String text(ResultSet r, int i) throws Exception {
    Object value = r.getObject(i);
    if (value == null) return "-";
    if (value instanceof byte[] bytes) return HexFormat.of().formatHex(bytes);
    if (value instanceof Boolean flag) return flag ? "1" : "0";
    if (value instanceof Double real) return Long.toHexString(Double.doubleToLongBits(real));
    return value.toString();
  }
}
