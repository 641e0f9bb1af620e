package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.RandomAccessFile;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import milewarden.cli.Exit;
import milewarden.store.Database;
import milewarden.store.TestStores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A store that was damaged on purpose: verify names each damage, and nothing in a good one. */
final class VerifyTest {
  // The damage, and a word of the sentence that must name it. Each is done and undone.
  private static final Map<String, String[]> DAMAGES =
      Map.of(
          "differ from their hash",
          swap("content", "sha256", "(select min(sha256) from content)", "deflated"),
          "which is not in the store",
          new String[] {
            "update measurement set course_version = 'x' || course_version where id = 1",
            "update measurement set course_version = substr(course_version, 2) where id = 1"
          },
          "names session 9999",
          new String[] {
            "update run set session_id = session_id + 9990 where id = 9",
            "update run set session_id = session_id - 9990 where id = 9"
          },
          "The file of version",
          new String[] {
            "update course_version set version = 'x' || version",
            "update course_version set version = substr(version, 2)"
          },
          "The record of verdict 1 can't be read",
          new String[] {
            "update verdict set record = '}' || record",
            "update verdict set record = substr(record, 2)"
          },
          "The record of result",
          new String[] {
            "update result set detail = '[' || detail where id = (select max(id) from result where detail is not null)",
            "update result set detail = substr(detail, 2) where detail like '[%'"
          },
          "counts as sent and has no time",
          new String[] {
            "update outbox set state = 'sent', answer = sent_at, sent_at = null",
            "update outbox set sent_at = answer, answer = null"
          });

  @TempDir Path folder;

  // Gives the first row another's bytes, and gives them back.
  private static String[] swap(String table, String key, String which, String column) {
    String other = "(select " + column + " from " + table + " where " + key + " = 'spare')";
    String copy =
        "insert into %s (%s, %s, size_bytes, stored_at) select 'spare', %s, size_bytes, 'x' from %s"
            .formatted(table, key, column, column, table);
    String first = " where " + key + " = " + which;
    String last = " where " + key + " = (select max(sha256) from content where sha256 < 's')";
    return new String[] {
      copy
          + first
          + ";update content set deflated = (select deflated from content"
          + last
          + ")"
          + first,
      "update content set deflated = "
          + other
          + first
          + ";delete from content where sha256 = 'spare'"
    };
  }

  private static int verify(Season season, StringWriter out) {
    return season.command(out, "verify");
  }

  private static void change(Season season, TestStores stores, String sql) throws Exception {
    // Only with its own guard down does the database let such damage pass.
    String unguarded =
        stores == TestStores.SQLITE
            ? "pragma foreign_keys = off"
            : "set session_replication_role = replica";
    String[] each = (unguarded + ";" + sql).split(";");
    season.sql(each);
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void eachDamageIsNamedAndAGoodStoreHasNone(TestStores stores) throws Exception {
    Season season = new Season(folder, stores.fresh(folder));
    try (Database database = season.look()) {
      season.run(database);
    }
    StringWriter good = new StringWriter();
    assertThat(verify(season, good)).as(good.toString()).isEqualTo(Exit.DONE);
    // Five recordings, a sheet and the course's file.
    assertThat(good.toString()).contains("7 files").contains("Everything is as it was written.");
    for (Map.Entry<String, String[]> damage : DAMAGES.entrySet()) {
      change(season, stores, damage.getValue()[0]);
      StringWriter out = new StringWriter();
      assertThat(verify(season, out)).as(damage.getKey() + "\n" + out).isEqualTo(Exit.FINDINGS);
      assertThat(out.toString()).contains(damage.getKey()).contains("\n  - ");
      change(season, stores, damage.getValue()[1]);
    }
    StringWriter again = new StringWriter();
    assertThat(verify(season, again)).as(again.toString()).isEqualTo(Exit.DONE);
    change(season, stores, "update run set file_id = null where id = (select max(id) from run)");
    change(
        season,
        stores,
        "delete from content where sha256 = (select min(sha256) from received_file"
            + " where kind = 'track' and state = 'measured')");
    StringWriter out = new StringWriter();
    assertThat(season.command(out, "verify", "--json")).isEqualTo(Exit.FINDINGS);
    JsonNode answer = new JsonMapper().readTree(out.toString());
    assertThat(answer.path("findings").findValuesAsText("what"))
        .anyMatch(what -> what.matches("The track \\S+ counts as measured and has no run[.]"))
        .anyMatch(what -> what.matches("Run \\d+ stands for a row .* not in the store[.]"))
        .anyMatch(what -> what.matches("A row of \\S+ names content \\S+, which is not there[.]"))
        .anyMatch(what -> what.startsWith("Verdict 1 on K1 rests on"));
    change(season, stores, "update verdict set record = '}' || record");
    StringWriter both = new StringWriter();
    assertThat(verify(season, both)).isEqualTo(Exit.FINDINGS);
    assertThat(both.toString())
        .as("what is damaged hides nothing else")
        .contains("The record of verdict 1 can't be read", "Verdict 1 on K1 rests on");
  }

  @Test
  void aDamagedFileIsAFindingAndNotAFailure() throws Exception {
    Season season = new Season(folder);
    season.look().close();
    Path file = season.house.data.resolve("milewarden.db");
    long size = Files.size(file);
    try (RandomAccessFile store = new RandomAccessFile(file.toFile(), "rw")) {
      store.seek(size / 2);
      store.write(new byte[9000]);
    }
    StringWriter out = new StringWriter();
    assertThat(verify(season, out)).as(out.toString()).isEqualTo(Exit.FINDINGS);
    assertThat(out.toString()).contains("is damaged").contains("milewarden restore FILE");

    try (RandomAccessFile store = new RandomAccessFile(file.toFile(), "rw")) {
      store.setLength(size / 3);
    }
    StringWriter cut = new StringWriter();
    assertThat(verify(season, cut)).as(cut.toString()).isEqualTo(Exit.FINDINGS);
    assertThat(cut.toString()).contains("is damaged");
  }

  @Test
  void aStoreOfAnEarlierVersionIsNotChangedByAsking() throws Exception {
    Season season = new Season(folder);
    season.look().close();
    String steps = "select count(*) from flyway_schema_history";
    int before = season.count(steps);
    season.sql(
        "delete from flyway_schema_history where installed_rank ="
            + " (select max(installed_rank) from flyway_schema_history)");
    StringWriter out = new StringWriter();
    assertThat(verify(season, out)).isEqualTo(Exit.FAILURE);
    assertThat(out.toString()).contains("earlier version").contains("milewarden serve");
    assertThat(season.count(steps)).isEqualTo(before - 1);
  }
}
