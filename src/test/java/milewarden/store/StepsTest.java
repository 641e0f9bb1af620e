package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import com.zaxxer.hikari.HikariDataSource;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import javax.sql.DataSource;
import milewarden.store.tables.Steps;
import org.jdbi.v3.core.Jdbi;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The short ways past Flyway, held against Flyway itself. */
final class StepsTest {
  private static final Instant NOW = Instant.parse("2026-05-12T07:00:00Z");

  @TempDir Path folder;

  private static List<Map<String, Object>> rows(DataSource source, String sql) {
    return Jdbi.create(source).withHandle(h -> h.createQuery(sql).mapToMap().list());
  }

  private static void change(DataSource source, String sql) {
    Jdbi.create(source).useHandle(h -> h.execute(sql));
  }

  private HikariDataSource file(String name) throws Exception {
    return Database.writing(StoreSettings.in(Files.createDirectories(folder.resolve(name))));
  }

  private static void byFlyway(HikariDataSource source, Path folder) {
    Migrations.migrate(StoreSettings.in(folder), source);
  }

  @Test
  void anEmptyFileGetsTheTablesAndTheRecordThatFlywayMakes() throws Exception {
    try (HikariDataSource ours = file("ours");
        HikariDataSource flyways = file("flyways")) {
      Migrations.run(StoreSettings.in(folder.resolve("ours")), ours);
      byFlyway(flyways, folder.resolve("flyways"));
      String tables = "select type, name, tbl_name, sql from sqlite_master order by type, name";
      assertThat(rows(ours, tables)).isEqualTo(rows(flyways, tables)).hasSizeGreaterThan(40);
      String record =
          "select installed_rank, version, description, type, script, checksum, installed_by,"
              + " success from flyway_schema_history order by installed_rank";
      assertThat(rows(ours, record)).isEqualTo(rows(flyways, record)).isNotEmpty();
      String when =
          "select count(*) as n from flyway_schema_history where installed_on not glob"
              + " '20[0-9][0-9]-[0-9][0-9]-[0-9][0-9] [0-9][0-9]:[0-9][0-9]:[0-9][0-9].[0-9]*'";
      assertThat(rows(ours, when)).isEqualTo(rows(flyways, when));
      // Flyway itself finds nothing left to do and nothing changed.
      byFlyway(ours, folder.resolve("ours"));
      assertThat(rows(ours, record)).isEqualTo(rows(flyways, record));
    }
  }

  @Test
  void aFileWithATableIsLeftToFlyway() throws Exception {
    try (HikariDataSource source = file("one")) {
      change(source, "create table another (id integer)");
      assertThat(Steps.makeInEmptyFile(source, Map.of())).isFalse();
      assertThat(rows(source, "select name from sqlite_master")).hasSize(1);
    }
  }

  @Test
  void whatFailsHalfWayLeavesTheFileEmpty() throws Exception {
    try (HikariDataSource source = file("half")) {
      // Without the words of a dialect the first text is no SQL.
      assertThat(
              org.assertj.core.api.Assertions.catchThrowable(
                  () -> Steps.makeInEmptyFile(source, Map.of())))
          .isInstanceOf(java.sql.SQLException.class);
      assertThat(rows(source, "select name from sqlite_master")).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void afterAllStepsNothingIsLeftAndAnyOtherRecordIsLeftToFlyway(TestStores stores) {
    StoreSettings settings = stores.fresh(folder);
    Database.open(settings, () -> NOW).close();
    try (HikariDataSource source = Database.writing(settings)) {
      assertThat(Steps.allTaken(source)).isTrue();
      String last = " where installed_rank = (select max(installed_rank) from";
      String of = " flyway_schema_history";
      change(source, "update" + of + " set checksum = checksum + 1" + last + of + ")");
      assertThat(Steps.allTaken(source)).isFalse();
      change(source, "update" + of + " set checksum = checksum - 1" + last + of + ")");
      assertThat(Steps.allTaken(source)).isTrue();
      change(source, "update" + of + " set success = " + no(settings) + last + of + ")");
      assertThat(Steps.allTaken(source)).isFalse();
      change(source, "delete from" + of + last + of + ")");
      assertThat(Steps.allTaken(source)).isFalse();
      change(source, "drop table" + of);
      assertThat(Steps.allTaken(source)).isFalse();
    }
  }

  private static String no(StoreSettings settings) {
    return settings.url().isPresent() ? "false" : "0";
  }
}
