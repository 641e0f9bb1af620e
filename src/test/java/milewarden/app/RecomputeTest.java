package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.cli.Places;
import milewarden.review.Publishing;
import milewarden.store.Database;
import milewarden.store.DueItems;
import milewarden.store.Marks;
import milewarden.store.Models;
import milewarden.store.ReceivedFiles;
import milewarden.store.ReceivedFiles.State;
import milewarden.store.Recomputations;
import milewarden.store.Runs;
import milewarden.store.StoreSettings;
import milewarden.verdict.DueItem;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store whose results are of another engine version, and the program that starts on it. */
final class RecomputeTest {
  @TempDir Path folder;
  private Household house;
  private Config config;

  @BeforeEach
  void furnish() throws Exception {
    house = new Household(folder);
    config =
        ConfigReader.read(
                Places.of(house.data).withConfig(house.configFile), name -> Optional.empty())
            .fold(
                ConfigRead.Usable::config,
                r -> {
                  throw new AssertionError(r.why());
                });
  }

  private Database look() {
    return Database.open(StoreSettings.in(house.data), InstantSource.system());
  }

  private static void atRest(Database database) {
    Await.until(
        "all is measured and judged",
        () -> database.read(ReceivedFiles::counts),
        () ->
            database.read(ReceivedFiles::counts).getOrDefault(State.RECEIVED, 0) == 0
                && database.read(Recomputations::pending) == 0
                && database.read(Marks::count) == 0);
  }

  /** Four sessions with 1.0, shown alone; four tracks with it; a track with 2.0. */
  private void season() throws Exception {
    StringBuilder rows = new StringBuilder();
    List<String> shown = List.of("0.401", "0.400", "0.402", "0.401");
    for (int i = 0; i < shown.size(); i++)
      rows.append(Household.row("B" + i, Household.day(i), "", "1.0", shown.get(i)));
    for (int i = 4; i < 8; i++) {
      house.drop("all/w" + i + ".gpx", Household.track(Household.day(i), i));
      rows.append(Household.row("B" + i, Household.day(i), "w" + i + ".gpx", "1.0", "0.401"));
    }
    house.drop("all/new.gpx", Household.track(Household.day(10), 5));
    rows.append(Household.row("N1", Household.day(10), "new.gpx", "2.0", "0.401"));
    house.dropSheet("all/session.csv", rows.toString());
  }

  private static List<DueItems.Due> open(Database database) {
    return database.read(tx -> DueItems.open(tx));
  }

  private void sql(String... statements) throws Exception {
    try (Connection c = DriverManager.getConnection(url());
        Statement s = c.createStatement()) {
      for (String each : statements) s.executeUpdate(each);
    }
  }

  private String url() {
    return "jdbc:sqlite:" + house.data.resolve("milewarden.db");
  }

  private int count(String sql) throws Exception {
    try (Connection c = DriverManager.getConnection(url());
        Statement s = c.createStatement();
        ResultSet r = s.executeQuery(sql)) {
      r.next();
      return r.getInt(1);
    }
  }

  /** Runs the season, publishes on 1.0, and stops the server. */
  private List<DueItems.Due> season(Database database) throws Exception {
    try (App app = new App(config, InstantSource.system()).start()) {
      assertThat(app.port()).isPositive();
      season();
      Await.until(
          "nine runs are there and a message was written",
          () -> database.read(ReceivedFiles::counts) + " " + house.files("outbox"),
          () -> database.read(Runs::count) == 9 && !house.files("outbox").isEmpty());
      atRest(database);
      Models.Model model = database.read(tx -> Models.find(tx, "K1")).orElseThrow();
      new Publishing(database, Policy.defaults(), config.zone(), () -> {})
          .publish(model.id(), "1.0", "Reads well.", Optional.empty(), "tester")
          .fold(done -> done, r -> Optional.ofNullable(r.sentence()).map(AssertionError::new));
      Await.until(
          "the verdict's model is judged",
          () -> database.read(Marks::count),
          () -> database.read(Marks::count) == 0);
    }
    return open(database);
  }

  private void asOfAnotherEngine() throws Exception {
    sql(
        "update measurement set engine_version = '0'",
        "update judgement set engine_version = '0'",
        "update verdict set record = replace(record, '\"engineVersion\":\""
            + Engine.VERSION
            + "\"', '\"engineVersion\":\"0\"')");
  }

  @Test
  void newResultsComeBesideTheOldAndNothingIsRaisedOrSentAgain() throws Exception {
    try (Database database = look()) {
      List<DueItems.Due> before = season(database);
      List<String> mails = house.files("outbox");
      assertThat(before).isNotEmpty();
      asOfAnotherEngine();
      try (App app = new App(config, InstantSource.system()).start()) {
        assertThat(app.port()).isPositive();
        atRest(database);
      }
      assertThat(count("select count(*) from measurement where engine_version = '0'")).isEqualTo(9);
      assertThat(
              count(
                  "select count(*) from measurement where engine_version = '"
                      + Engine.VERSION
                      + "'"))
          .isEqualTo(9);
      assertThat(
              count(
                  "select count(*) from judgement where engine_version = '" + Engine.VERSION + "'"))
          .isEqualTo(1);
      assertThat(open(database)).isEqualTo(before);
      assertThat(count("select count(*) from due_item where closed_at is not null"))
          .as("closed: the newer firmware's item is renewed, not closed")
          .isEqualTo(count("select count(*) from due_event where what = 'closed'"));
      assertThat(house.files("outbox")).isEqualTo(mails);
      List<Recomputations.Queued> log = database.read(tx -> Recomputations.latest(tx, 1));
      assertThat(log)
          .singleElement()
          .satisfies(
              q -> {
                assertThat(q.because()).isEqualTo(Recomputations.Because.ENGINE);
                assertThat(q.runs()).isEqualTo(9);
              });
    }
  }

  @Test
  void aPublishedFigureThatMovesIsDueAndToldOnce() throws Exception {
    try (Database database = look()) {
      season(database);
      int mails = house.files("outbox").size();
      asOfAnotherEngine();
      // As if the other engine had found a mean of 9.75 %: 0.25 % is (401 - 400) / 400, by hand.
      sql(
          "update verdict set record = json_set(record, '$.figures.meanPercent', 9.75)",
          "update verdict set record = json_set(record, '$.figures.source', 'SHOWN')");
      for (int start = 0; start < 2; start++)
        try (App app = new App(config, InstantSource.system()).start()) {
          assertThat(app.port()).isPositive();
          atRest(database);
          Await.until(
              "the message is written",
              () -> house.files("outbox"),
              () -> house.files("outbox").size() > mails);
        }
      assertThat(open(database))
          .extracting(d -> d.item().cause())
          .contains(DueItem.Cause.ENGINE_MOVED_RESULTS);
      assertThat(house.files("outbox")).as("one message, though started twice").hasSize(mails + 1);
    }
  }
}
