package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What pages say of records that are damaged, and what they show all the same. */
final class DamagedPagesTest {
  private static final Pattern RUN = Pattern.compile("href=\"/runs/(\\d+)\\?pass=\\d+\"");

  // The same demo each time: its pages are looked for once.
  private static final Set<String> PAGES = new TreeSet<>();

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String MODEL = "2";

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
    damage(house, "update course_version set course = '{\"torn'");
    // Nothing is in a judgement that can't be made again, and the folder has the course's file.
    try (App app = house.serve()) {
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      Await.until(
          "the model is judged anew",
          () -> crawl.ask("/models/1").body(),
          () -> crawl.ask("/models/1").body().contains("data-chart=\"model\""));
      Await.until(
          "the course is read anew",
          () -> crawl.ask("/api/v1/courses").body(),
          () -> !crawl.ask("/api/v1/courses").body().contains("unread"));
    }
  }

  @Test
  void everyPageLivesWithAModelWhoseJudgementIsDamaged() throws Exception {
    try (App app = PlayedDemo.once().serveACopy(folder)) {
      String home = "http://127.0.0.1:" + app.port();
      Crawl crawl = new Crawl(home);
      Set<String> addresses = new TreeSet<>(pages(crawl));
      addresses.addAll(
          List.of(
              "/api/v1/comparisons", "/api/v1/comparisons?strips=true", "/api/v1/head-to-head"));
      String model = "/models/" + MODEL;
      String compared =
          addresses.stream()
              .filter(a -> a.startsWith(model + "/compare"))
              .findFirst()
              .orElseThrow();
      String draft =
          addresses.stream()
              .filter(a -> a.startsWith("/verdicts/draft?model=" + MODEL))
              .findFirst()
              .orElseThrow();
      assertThat(addresses).contains(model + "/plan");
      JsonNode before = JSON.readTree(crawl.ask("/api/v1/comparisons").body());
      assertThat(before.has("unread")).isFalse();
      String name = name(crawl);

      // And stays so, when the server judges anew meanwhile.
      String torn =
          "update judgement set judgement = '{', judged_at = '2027-01-01T00:00:00Z'"
              + " where model_id = "
              + MODEL;
      Path demo = folder.resolve("demo");
      damage(demo, torn);
      run(
          demo,
          "create trigger torn after update on judgement when new.judgement <> '{' begin "
              + torn
              + "; end");
      for (String address : addresses)
        assertThat(crawl.ask(address).statusCode()).as(address).isEqualTo(200);
      assertThat(words(crawl.ask(compared)))
          .contains("stored judgement can't be read", "judged anew", "milewarden verify")
          .contains("href=\"" + compared.replace("&", "&amp;") + "\"", " against ");
      assertThat(words(crawl.ask(draft)))
          .contains("A verdict can't be drafted", "stored judgement can't be read");
      assertThat(words(crawl.ask(draft + "&words=Reads+well.+And+far.")))
          .contains("Reads well. And far.");
      assertThat(words(crawl.ask(model + "/plan")))
          .contains("A campaign can't be planned", "stored judgement can't be read");
      assertThat(crawl.ask(model + "/compare?candidate=9&baseline=8").statusCode()).isEqualTo(404);

      JsonNode after = JSON.readTree(crawl.ask("/api/v1/comparisons").body());
      assertThat(after.get("unread").get(0).asText())
          .contains(name, "stored judgement can't be read");
      List<JsonNode> others = new ArrayList<>();
      before.get("items").forEach(c -> others.add(c));
      others.removeIf(c -> c.get("model").asText().equals(name));
      assertThat(others).isNotEmpty();
      assertThat(after.get("items")).containsExactlyElementsOf(others);
      assertThat(
              JSON.readTree(crawl.ask("/api/v1/head-to-head").body()).get("unread").get(0).asText())
          .contains(name);
    }
  }

  @Test
  void everyPageLivesWithDueItemsThatAreDamaged() throws Exception {
    List<String> before = new ArrayList<>();
    List<String> kinds = new ArrayList<>();
    try (App app = PlayedDemo.once().serveACopy(folder)) {
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      JsonNode due = JSON.readTree(crawl.ask("/api/v1/due").body()).get("items");
      due.forEach(d -> before.add(d.get("id").asText()));
      due.forEach(d -> kinds.add(d.get("model").asText() + d.get("severity").asText()));
      assertThat(before).isNotEmpty();
      Set<String> addresses = new TreeSet<>(pages(crawl));
      addresses.addAll(List.of("/api/v1/feed.atom", "/api/v1/due.ics", "/metrics"));
      addresses.removeIf(a -> a.contains("/sheet?item="));

      damage(folder.resolve("demo"), "update due_item set item = '{\"torn'");
      for (String address : addresses)
        assertThat(crawl.ask(address).statusCode()).as(address).isEqualTo(200);
      assertThat(words(crawl.ask("/due")))
          .contains("The rest of this item can't be read", "judged anew", "milewarden verify");
      assertThat(words(crawl.ask("/"))).contains("The rest of this item can't be read");
      JsonNode after = JSON.readTree(crawl.ask("/api/v1/due").body()).get("items");
      List<String> still = new ArrayList<>();
      after.forEach(d -> still.add(d.get("model").asText() + d.get("severity").asText()));
      assertThat(still).containsExactlyElementsOf(kinds);
      after.forEach(
          d -> assertThat(d.get("advice").asText()).contains("The rest of this item can't be"));
    }
  }

  @Test
  void everyListLivesWithAVerdictACourseAndAMessageThatAreDamaged() throws Exception {
    try (App app = PlayedDemo.once().serveACopy(folder)) {
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      Path demo = folder.resolve("demo");
      String verdicts = crawl.ask("/api/v1/verdicts").body();
      JsonNode verdict = JSON.readTree(verdicts).get("items").get(0);
      String slug =
          JSON.readTree(crawl.ask("/api/v1/courses").body())
              .get("items")
              .get(0)
              .get("slug")
              .asText();
      int courses = JSON.readTree(crawl.ask("/api/v1/courses").body()).get("items").size();
      assertThat(courses).isGreaterThan(1);
      Set<String> addresses = new TreeSet<>(pages(crawl));
      addresses.addAll(
          List.of(
              "/api/v1/feed.atom",
              "/api/v1/due.ics",
              "/api/v1/verdicts",
              "/api/v1/courses",
              "/api/v1/alerts",
              "/api/v1/runs",
              "/api/v1/sessions"));
      String words = verdict.get("words").asText();

      damage(
          demo, "update verdict set record = '{\"torn' where id = " + verdict.get("id").asText());
      damage(demo, "update outbox set quiet = '{\"torn'");
      List<String> broken = new ArrayList<>();
      for (String address : addresses)
        if (crawl.ask(address).statusCode() != 200) broken.add(address);
      assertThat(broken)
          .allMatch(a -> a.matches("/verdicts/\\d+/\\d+(/.*)?"), "is the verdict's own");
      assertThat(broken).isNotEmpty();
      assertThat(words(crawl.ask(broken.get(0)))).contains("published verdict can't be read");
      assertThat(words(crawl.ask("/verdicts")))
          .contains(words, "The stored record can't be read of verdict ", "backup that verifies");
      JsonNode rest = JSON.readTree(crawl.ask("/api/v1/verdicts").body());
      assertThat(rest.get("items")).hasSize(JSON.readTree(verdicts).get("items").size() - 1);
      assertThat(rest.get("unread").get(0).asText())
          .contains("verdict " + verdict.get("number").asText(), verdict.get("model").asText());

      damage(demo, "update course_version set course = '{\"torn' where slug = '" + slug + "'");
      assertThat(words(crawl.ask("/courses"))).contains("line of the course " + slug);
      JsonNode left = JSON.readTree(crawl.ask("/api/v1/courses").body());
      assertThat(left.get("items")).hasSize(courses - 1);
      assertThat(left.get("unread").get(0).asText()).contains(slug, "courses' folder");
      assertThat(crawl.ask("/").statusCode()).isEqualTo(200);
      assertThat(crawl.ask("/courses/" + slug).statusCode()).isEqualTo(500);
    }
  }

  @Test
  void aReportOnADamagedJudgementSaysWhenToAskAgain() throws Exception {
    try (App app = PlayedDemo.once().serveACopy(folder)) {
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      String name = name(crawl);
      String firmware = "";
      for (JsonNode c : JSON.readTree(crawl.ask("/api/v1/comparisons").body()).get("items"))
        if (c.get("model").asText().equals(name)) firmware = c.get("candidate").asText();
      String report = "/models/" + MODEL + "/report.html?firmware=" + firmware;
      assertThat(crawl.ask(report).statusCode()).isEqualTo(200);
      Path demo = folder.resolve("demo");
      String torn =
          "update judgement set judgement = '{', judged_at = '2027-01-01T00:00:00Z'"
              + " where model_id = "
              + MODEL;
      damage(demo, torn);
      run(
          demo,
          "create trigger torn after update on judgement when new.judgement <> '{' begin "
              + torn
              + "; end");
      HttpResponse<String> page = crawl.ask(report);
      // RFC 9110, sections 15.6.4 and 10.2.3.
      assertThat(page.statusCode()).isEqualTo(503);
      assertThat(page.headers().firstValue("Retry-After")).hasValue("3600");
      assertThat(words(page))
          .contains("judgement of a model can't be read", "Ask again in an hour");
      HttpResponse<String> json = crawl.ask(report.replace("report.html", "report.json"));
      assertThat(json.statusCode()).isEqualTo(503);
      assertThat(json.headers().firstValue("Content-Type")).hasValue("application/problem+json");
      assertThat(JSON.readTree(json.body()).get("detail").asText()).contains("judged anew");
    }
  }

  private static Set<String> pages(Crawl crawl) throws Exception {
    synchronized (PAGES) {
      if (PAGES.isEmpty()) PAGES.addAll(crawl.pages().keySet());
      return PAGES;
    }
  }

  private static String name(Crawl crawl) throws Exception {
    for (JsonNode model : JSON.readTree(crawl.ask("/api/v1/models").body()).get("items"))
      if (model.get("id").asText().equals(MODEL)) return model.get("name").asText();
    throw new AssertionError("model " + MODEL);
  }

  private static String words(HttpResponse<String> page) {
    String body = page.body().replace("&#39;", "'");
    return body.substring(Math.max(0, body.indexOf("<main")));
  }

  private static void damage(Household house, String sql) throws Exception {
    damage(house.data, sql);
  }

  private static void damage(Path data, String sql) throws Exception {
    assertThat(run(data, sql)).isPositive();
  }

  private static int run(Path data, String sql) throws Exception {
    try (Connection c =
            DriverManager.getConnection("jdbc:sqlite:" + data.resolve("milewarden.db"));
        Statement s = c.createStatement()) {
      return s.executeUpdate(sql);
    }
  }
}
