package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.TreeSet;
import java.util.zip.ZipFile;
import milewarden.cli.Exit;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import milewarden.store.judged.Verdicts;
import milewarden.store.keep.StoreCheck;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A backup made while files come in, put back where there is nothing. */
final class BackupTest {
  private static final int TRACKS = 40;

  @TempDir Path folder;
  @TempDir Path elsewhere;

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatIsPutBackIsWholeAndServes(TestStores stores) throws Exception {
    Season season = new Season(folder, stores.fresh(folder));
    Files.writeString(folder.resolve("policy.yaml"), "# the usual rules\n");
    Path file = elsewhere.resolve("copy.zip");
    int least;
    int most;
    try (Database database = season.look()) {
      season.run(database);
      try (App app = new App(season.config, InstantSource.system()).start()) {
        assertThat(app.port()).isPositive();
        drop(season);
        Await.until("some came in", () -> "", () -> database.read(Runs::count) > 12);
        least = database.read(Runs::count);
        StringWriter out = new StringWriter();
        assertThat(season.command(out, "backup", file.toString())).as(out.toString()).isZero();
        most = database.read(Runs::count);
        Await.until("all came in", () -> "", () -> database.read(Runs::count) == 9 + TRACKS);
        Season.atRest(database);
      }
    }
    try (ZipFile zip = new ZipFile(file.toFile())) {
      assertThat(
              new TreeSet<>(
                  Collections.list(zip.entries()).stream().map(e -> e.getName()).toList()))
          .containsExactly(
              "README.txt",
              "SHA256SUMS",
              "config/milewarden.yaml",
              "config/policy.yaml",
              "courses/pier.geojson",
              "milewarden.db");
      String yaml =
          new String(
              zip.getInputStream(zip.getEntry("config/milewarden.yaml")).readAllBytes(),
              StandardCharsets.UTF_8);
      assertThat(yaml).doesNotContain("asked for by nobody");
    }

    Path fresh = elsewhere.resolve("new/data");
    StringWriter out = new StringWriter();
    int restored = Season.bare(out, "restore", file.toString(), "--data", fresh.toString());
    assertThat(restored).as(out.toString()).isEqualTo(Exit.DONE);
    assertThat(out.toString()).contains("milewarden serve --data " + fresh + " --config ");
    assertThat(fresh.resolve("courses/pier.geojson"))
        .hasSameBinaryContentAs(season.house.data.resolve("courses/pier.geojson"));
    StoreSettings there = StoreSettings.in(fresh);
    assertThat(StoreCheck.check(there, InstantSource.system()).findings()).isEmpty();
    try (Database database = Database.open(there, InstantSource.system())) {
      assertThat(database.read(Runs::count)).isBetween(least, most);
      List<Verdicts.OnRecord> verdicts =
          database.read(tx -> Verdicts.readable(tx, new ArrayList<>()));
      assertThat(verdicts).hasSize(1);
    }
    int again = Season.bare(out, "restore", file.toString(), "--data", fresh.toString());
    assertThat(again).isEqualTo(Exit.WRONG_USE);
  }

  private static void drop(Season season) throws Exception {
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < TRACKS; i++)
      rows.append(Household.row("L" + i, Household.day(20 + i), "l" + i + ".gpx", "1.0", "0.401"));
    season.house.dropSheet("later/session.csv", rows.toString());
    for (int i = 0; i < TRACKS; i++)
      season.house.drop("later/l" + i + ".gpx", Household.track(Household.day(20 + i), 100 + i));
  }
}
