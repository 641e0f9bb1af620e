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
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import milewarden.store.keep.StoreCheck;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store carried over to PostgreSQL and back is the same to the last digit, and goes on. */
final class MoveTest {
  // What a season leaves empty; the texts are as long and strange as they may be.
  private static final List<String> MORE =
      List.of(
          "insert into course_problem values ('a.geojson', 0, '/geometry', 'Ö “two”', '2026-01-02T03:04:05Z')",
          "insert into exclusion (run_id, pass, reason, excluded_by, excluded_at, words, lifted_by)"
              + " select min(id), 1, 'interrupted', 'ada', '2026-01-02T03:04:05Z', '', null from run",
          "insert into withdrawal select min(id), 'ada', '2026-01-02T03:04:05Z', 'a\nb' from verdict",
          "insert into unit_variance select min(id), 0.1, 1e-300 from model",
          "insert into reference_track select min(f.id), min(s.id), '2026-01-02T03:04:05Z',"
              + " '2026-01-02T03:14:05Z', '2026-01-03T00:00:00Z' from received_file f, session s",
          "insert into digest values ('a@example.org', '2026-01-02', '2026-01-02T05:00:00Z')",
          "insert into digest_item select 'a@example.org', min(id), '2026-01-02T03:04:05Z', null"
              + " from due_item",
          "insert into person (name, name_key, once_key, role, passphrase, added_at, changed_at)"
              + " values ('Ada', 'ada', 'ada', 'keeper', 'x', '2026-01-02', '2026-01-02')",
          "insert into sign_in select 'secret', min(id), '2026-01-02', '2026-01-02' from person",
          "insert into api_token (name, secret, role, maker_id, made_by, made_at, expires_at)"
              + " select 't', 's', 'tester', min(id), 'Ada', '2026-01-02', '2026-02-02' from person");

  @TempDir Path folder;
  @TempDir Path elsewhere;

  @Test
  void everyRowArrivesThereAndBackAndWorkGoesOn() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
    }
    StoreSettings sqlite = season.config.store();
    try (Connection c = connection(sqlite);
        Statement s = c.createStatement()) {
      for (String more : MORE) s.executeUpdate(more);
    }
    Map<String, List<String>> before = rows(sqlite);
    // A table that is new is filled above, or named here: the parts of a content too large for one,
    // marks of work under way, and texts that only their own code writes.
    assertThat(before.keySet().stream().filter(table -> before.get(table).isEmpty()))
        .containsExactlyInAnyOrder(
            "aa_replay", "campaign_plan", "content_part", "look", "mark", "recipient");
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

  private static Connection connection(StoreSettings store) throws Exception {
    return store.url().isPresent()
        ? DriverManager.getConnection(store.url().get(), "postgres", "")
        : DriverManager.getConnection("jdbc:sqlite:" + store.data().resolve("milewarden.db"));
  }

  private static Map<String, List<String>> rows(StoreSettings store) throws Exception {
    Map<String, List<String>> rows = new TreeMap<>();
    try (Connection c = connection(store);
        Statement s = c.createStatement()) {
      for (String table : tables(c)) rows.put(table, rows(s, table));
    }
    return rows;
  }

  // All of them but what belongs to a server that runs, not to what it holds.
  private static List<String> tables(Connection c) throws Exception {
    List<String> tables = new ArrayList<>();
    try (ResultSet r =
        c.getMetaData().getTables(null, c.getSchema(), "%", new String[] {"TABLE"})) {
      while (r.next()) {
        String table = r.getString("TABLE_NAME");
        if (!table.matches("qrtz_.*|sqlite_.*|station|flyway_schema_history")) tables.add(table);
      }
    }
    return tables;
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
