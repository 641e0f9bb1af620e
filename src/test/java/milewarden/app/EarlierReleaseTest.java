package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.zip.GZIPInputStream;
import milewarden.store.Database;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Verdicts;
import milewarden.store.keep.StoreCheck;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store that an earlier build wrote (SOURCE.txt beside it) is opened and read by this one. */
final class EarlierReleaseTest {
  // The engine that measured it then.
  private static final String ENGINE = "1";

  @TempDir Path folder;

  private Season season() throws Exception {
    Season season = new Season(folder);
    try (InputStream in =
        EarlierReleaseTest.class.getResourceAsStream("/store/earlier/milewarden.db.gz")) {
      Files.copy(new GZIPInputStream(in), season.house.data.resolve("milewarden.db"));
    }
    return season;
  }

  @Test
  void allRunsResultsVerdictsAndMessagesAreRead() throws Exception {
    try (Database database = season().look()) {
      List<Received> files =
          database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 100));
      assertThat(files)
          .extracting(f -> f.path() + " " + f.state())
          .containsExactlyInAnyOrder(
              "w4.gpx MEASURED",
              "w5.gpx MEASURED",
              "broken.gpx REFUSED",
              "session.csv MEASURED",
              "new.gpx MEASURED",
              "session.csv MEASURED");
      List<Runs.Run> runs = database.read(tx -> Runs.page(tx, 100, 0));
      assertThat(runs)
          .extracting(Runs.Run::sessionName)
          .containsExactlyInAnyOrder("B0", "B1", "B2", "B3", "B4", "B5", "N1");
      for (Runs.Run run : runs) {
        List<Results.Summary> passes = database.read(tx -> Results.ofRun(tx, run.id(), ENGINE));
        assertThat(passes).as(run.sessionName()).hasSize(1);
      }
      verdict(database);
      List<Outbox.Message> messages = database.read(tx -> Outbox.page(tx, Optional.empty(), 100));
      assertThat(messages).extracting(Outbox.Message::state).containsExactly(Outbox.State.SENT);
    }
  }

  private static void verdict(Database database) {
    Models.Model model = database.read(Models::all).get(0);
    assertThat(model.name()).isEqualTo("K1");
    List<Verdicts.OnRecord> verdicts = database.read(tx -> Verdicts.of(tx, model.id()));
    assertThat(verdicts).hasSize(1);
    assertThat(verdicts.get(0).stands()).isTrue();
    assertThat(verdicts.get(0).verdict().firmware()).isEqualTo("1.0");
    assertThat(verdicts.get(0).verdict().words()).isEqualTo("Reads well, in the open.");
    // By hand: 401, 400, 402, 401, 401 and 401 m shown for 400 m: 1 m on average over six.
    assertThat(verdicts.get(0).verdict().figures().meanPercent())
        .isCloseTo(100 * (6.0 / 6) / 400, within(1e-6));
    boolean judged = database.read(tx -> Judgements.find(tx, model.id())).isPresent();
    assertThat(judged).isTrue();
    List<DueItems.Due> open = database.read(tx -> DueItems.open(tx));
    assertThat(open).extracting(d -> d.item().firmware()).containsExactly("2.0");
  }

  @Test
  void theStoreVerifiesAfterItsMigrationAndWorkGoesOnWithoutTellingTwice() throws Exception {
    Season season = season();
    try (Database database = season.look()) {
      StoreCheck.Checked checked = StoreCheck.check(season.config.store(), InstantSource.system());
      assertThat(checked.findings()).isEmpty();
      try (App app = new App(season.config, InstantSource.system()).start()) {
        assertThat(app.port()).isPositive();
        season.house.drop("more/late.gpx", Household.track(Household.day(11), 6));
        season.house.dropSheet(
            "more/session.csv", Household.row("N2", Household.day(11), "late.gpx", "2.0", "0.401"));
        Await.until("the eighth run", () -> "", () -> database.read(Runs::count) == 8);
        Season.atRest(database);
      }
      assertThat(database.read(tx -> ReceivedFiles.counts(tx)).get(State.WAITING)).isNull();
      List<Verdicts.OnRecord> verdicts =
          database.read(tx -> Verdicts.readable(tx, new ArrayList<>()));
      assertThat(verdicts).hasSize(1);
      assertThat(Season.open(database)).extracting(d -> d.item().firmware()).containsOnly("2.0");
      StoreCheck.Checked checked2 = StoreCheck.check(season.config.store(), InstantSource.system());
      assertThat(checked2.findings()).isEmpty();
    }
  }
}
