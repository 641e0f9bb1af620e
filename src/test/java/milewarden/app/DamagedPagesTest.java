package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What pages say of records that are damaged, and what they show all the same. */
final class DamagedPagesTest {
  private static final Pattern RUN = Pattern.compile("href=\"/runs/(\\d+)\\?pass=\\d+\"");

  @TempDir private Path folder;

  @Test
  void aPageSaysWhatCantBeReadAndShowsTheRest() throws Exception {
    Household house = new Household(folder);
    try (Database look = Database.open(StoreSettings.in(house.data), InstantSource.system());
        App app = house.serve()) {
      StringBuilder rows = new StringBuilder();
      for (int i = 0; i < 2; i++) {
        house.drop("all/w" + i + ".gpx", Household.track(Household.day(i), i));
        rows.append(Household.row("B" + i, Household.day(i), "w" + i + ".gpx", "1.0", "0.401"));
      }
      house.dropSheet("all/session.csv", rows.toString());
      Await.until(
          "two runs",
          () -> look.read(milewarden.store.run.Runs::count),
          () -> look.read(milewarden.store.run.Runs::count) == 2);
      Season.atRest(look);
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      String session = crawl.ask("/sessions/B0").body();
      Matcher run = RUN.matcher(session);
      assertThat(run.find()).as("the session's page links its runs").isTrue();
      String address = "/runs/" + run.group(1);
      String whole = crawl.ask(address).body();
      assertThat(whole).contains("data-chart=\"ladder\"").doesNotContain("can&#39;t be read");

      damage(house, "update result set detail = '{\"torn'");
      HttpResponse<String> page = crawl.ask(address);
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(words(page))
          .contains("stored detail of this run can't be read", "milewarden verify")
          .contains("tags", "reference", "recorded");
      HttpResponse<String> outing = crawl.ask("/sessions/B0");
      assertThat(outing.statusCode()).isEqualTo(200);
      assertThat(words(outing)).contains("stored detail of one run can't be read").contains("B0");

      damage(house, "update judgement set judgement = '{', judged_at = '2027-01-01T00:00:00Z'");
      HttpResponse<String> overview = crawl.ask("/");
      assertThat(overview.statusCode()).isEqualTo(200);
      assertThat(words(overview)).contains("stored judgement can't be read of: ");
      HttpResponse<String> model = crawl.ask("/models/1");
      assertThat(model.statusCode()).isEqualTo(200);
      assertThat(words(model))
          .contains("stored judgement can't be read", "milewarden verify", "judged anew")
          .contains("href=\"/sessions/B0\"", "href=\"/sessions/B1\"");
      assertThat(crawl.ask("/models/2").statusCode()).isEqualTo(404);
      HttpResponse<String> verdicts = crawl.ask("/verdicts");
      assertThat(verdicts.statusCode()).isEqualTo(200);
      assertThat(words(verdicts)).contains("stored judgement can't be read of: ");
      HttpResponse<String> beside = crawl.ask("/head-to-head");
      assertThat(beside.statusCode()).isEqualTo(200);
      assertThat(words(beside)).contains("Left out, as the stored judgement can't be read: ");
    }
    // Nothing is in a judgement that can't be made again.
    try (App app = house.serve()) {
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      Await.until(
          "the model is judged anew",
          () -> crawl.ask("/models/1").body(),
          () -> crawl.ask("/models/1").body().contains("data-chart=\"model\""));
    }
  }

  private static String words(HttpResponse<String> page) {
    return page.body().replace("&#39;", "'");
  }

  private static void damage(Household house, String sql) throws Exception {
    try (Connection c =
            DriverManager.getConnection("jdbc:sqlite:" + house.data.resolve("milewarden.db"));
        Statement s = c.createStatement()) {
      assertThat(s.executeUpdate(sql)).isPositive();
    }
  }
}
