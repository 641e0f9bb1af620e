package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import milewarden.accuracy.Engine;
import milewarden.store.Database;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Recomputations;
import milewarden.verdict.DueItem;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store whose results are of another engine version, and the program that starts on it. */
final class RecomputeTest {
  @TempDir Path folder;
  private Season season;

  @BeforeEach
  void furnish() throws Exception {
    season = new Season(folder);
  }

  private void asOfAnotherEngine() throws Exception {
    season.sql(
        "update measurement set engine_version = '0'",
        "update judgement set engine_version = '0'",
        "update verdict set record = replace(record, '\"engineVersion\":\""
            + Engine.VERSION
            + "\"', '\"engineVersion\":\"0\"')");
  }

  @Test
  void newResultsComeBesideTheOldAndNothingIsRaisedOrSentAgain() throws Exception {
    try (Database database = season.look()) {
      List<DueItems.Due> before = season.run(database);
      List<String> mails = season.house.files("outbox");
      assertThat(before).isNotEmpty();
      asOfAnotherEngine();
      try (App app = new App(season.config, InstantSource.system()).start()) {
        assertThat(app.port()).isPositive();
        Season.atRest(database);
      }
      assertThat(season.count("select count(*) from measurement where engine_version = '0'"))
          .isEqualTo(9);
      assertThat(
              season.count(
                  "select count(*) from measurement where engine_version = '"
                      + Engine.VERSION
                      + "'"))
          .isEqualTo(9);
      assertThat(
              season.count(
                  "select count(*) from judgement where engine_version = '" + Engine.VERSION + "'"))
          .isEqualTo(1);
      assertThat(Season.open(database)).isEqualTo(before);
      assertThat(season.count("select count(*) from due_item where closed_at is not null"))
          .as("closed: the newer firmware's item is renewed, not closed")
          .isEqualTo(season.count("select count(*) from due_event where what = 'closed'"));
      assertThat(season.house.files("outbox")).isEqualTo(mails);
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
    try (Database database = season.look()) {
      season.run(database);
      int mails = season.house.files("outbox").size();
      asOfAnotherEngine();
      // As if the other engine had found a mean of 9.75 %: 0.25 % is (401 - 400) / 400, by hand.
      season.sql(
          "update verdict set record = json_set(record, '$.figures.meanPercent', 9.75)",
          "update verdict set record = json_set(record, '$.figures.source', 'SHOWN')");
      for (int start = 0; start < 2; start++)
        try (App app = new App(season.config, InstantSource.system()).start()) {
          assertThat(app.port()).isPositive();
          Season.atRest(database);
          Await.until(
              "the message is written",
              () -> season.house.files("outbox"),
              () -> season.house.files("outbox").size() > mails);
        }
      assertThat(Season.open(database))
          .extracting(d -> d.item().cause())
          .contains(DueItem.Cause.ENGINE_MOVED_RESULTS);
      assertThat(season.house.files("outbox"))
          .as("one message, though started twice")
          .hasSize(mails + 1);
    }
  }
}
