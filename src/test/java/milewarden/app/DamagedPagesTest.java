package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.StoreSettings;
import milewarden.store.judged.Plans;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What pages say of records that are damaged, and what they show all the same. */
final class DamagedPagesTest {
  private static final Pattern RUN = Pattern.compile("href=\"/runs/(\\d+)\\?pass=\\d+\"");

  // One server for all kinds of damage, each of which is mended before the next.
  @TempDir private static Path shared;
  private static Path demo = Path.of("");
  private static App served;
  private static Crawl crawl;
  // A page of each kind, the damaged model's own where there is one.
  private static final Set<String> PAGES = new TreeSet<>();

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String MODEL = "2";

  @TempDir private Path folder;

  @BeforeAll
  static void serve() throws Exception {
    served = PlayedDemo.once().serveACopy(shared);
    demo = shared.resolve("demo");
    crawl = new Crawl("http://127.0.0.1:" + served.port());
    PAGES.addAll(
        new Crawl("http://127.0.0.1:" + served.port(), "none=none", 1)
            .pages("/models/" + MODEL, "/")
            .keySet());
  }

  @AfterAll
  static void stop() throws Exception {
    served.close();
  }

  /**
   * Damage that stays, also when the server judges anew meanwhile, until it is closed: then what
   * was there is there again.
   */
  private static final class Torn implements AutoCloseable {
    private static int number;
    private final String name = "torn_" + ++number;
    private final Path data;
    private final String table;
    private final String column;

    Torn(Path data, String table, String column, String where) throws Exception {
      this.data = data;
      this.table = table;
      this.column = column;
      run(data, "create table " + name + " as select rowid as r, * from " + table);
      // What is kept in memory is kept under the moment of judging.
      String tear =
          "update "
              + table
              + " set "
              + column
              + " = '{\"torn'"
              + (table.equals("judgement") ? ", judged_at = '2027-01-01T00:00:00Z'" : "")
              + " where "
              + where;
      damage(data, tear);
      for (String after : List.of("update", "insert"))
        run(
            data,
            "create trigger "
                + name
                + after
                + " after "
                + after
                + " on "
                + table
                + " when new."
                + column
                + " <> '{\"torn' begin "
                + tear
                + "; end");
    }

    void mayBeMended() throws Exception {
      for (String after : List.of("update", "insert")) run(data, "drop trigger " + name + after);
    }

    @Override
    public void close() throws Exception {
      mayBeMended();
      String was = "(select %s from " + name + " where r = " + table + ".rowid)";
      run(
          data,
          "update "
              + table
              + " set "
              + column
              + " = "
              + was.formatted(column)
              + (table.equals("judgement") ? ", judged_at = " + was.formatted("judged_at") : "")
              + " where "
              + column
              + " = '{\"torn' and rowid in (select r from "
              + name
              + ")");
      run(data, "drop table " + name);
    }
  }

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
      Crawl home = new Crawl("http://127.0.0.1:" + app.port());
      String session = home.ask("/sessions/B0").body();
      Matcher run = RUN.matcher(session);
      assertThat(run.find()).as("the session's page links its runs").isTrue();
      String address = "/runs/" + run.group(1);
      String whole = home.ask(address).body();
      assertThat(whole).contains("data-chart=\"ladder\"").doesNotContain("can&#39;t be read");

      damage(house, "update result set detail = '{\"torn'");
      HttpResponse<String> page = home.ask(address);
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(words(page))
          .contains("stored detail of this run can't be read", "milewarden verify")
          .contains("tags", "reference", "recorded");
      HttpResponse<String> outing = home.ask("/sessions/B0");
      assertThat(outing.statusCode()).isEqualTo(200);
      assertThat(words(outing)).contains("stored detail of one run can't be read").contains("B0");

      Torn torn = new Torn(house.data, "judgement", "judgement", "true");
      HttpResponse<String> overview = home.ask("/");
      assertThat(overview.statusCode()).isEqualTo(200);
      assertThat(words(overview)).contains("stored judgement can't be read of: ");
      HttpResponse<String> model = home.ask("/models/1");
      assertThat(model.statusCode()).isEqualTo(200);
      assertThat(words(model))
          .contains("stored judgement can't be read", "milewarden verify", "judged anew")
          .contains("href=\"/sessions/B0\"", "href=\"/sessions/B1\"");
      assertThat(home.ask("/models/2").statusCode()).isEqualTo(404);
      HttpResponse<String> verdicts = home.ask("/verdicts");
      assertThat(verdicts.statusCode()).isEqualTo(200);
      assertThat(words(verdicts)).contains("stored judgement can't be read of: ");
      HttpResponse<String> beside = home.ask("/head-to-head");
      assertThat(beside.statusCode()).isEqualTo(200);
      assertThat(words(beside)).contains("Left out, as the stored judgement can't be read: ");
      // It stays damaged, but may be mended from here on.
      torn.mayBeMended();
    }
    damage(house, "update course_version set course = '{\"torn'");
    // Nothing is in a judgement that can't be made again, and the folder has the course's file.
    try (App app = house.serve()) {
      Crawl home = new Crawl("http://127.0.0.1:" + app.port());
      Await.until(
          "the model is judged anew",
          () -> home.ask("/models/1").body(),
          () -> home.ask("/models/1").body().contains("data-chart=\"model\""));
      Await.until(
          "the course is read anew",
          () -> home.ask("/api/v1/courses").body(),
          () -> !home.ask("/api/v1/courses").body().contains("unread"));
    }
  }

  @Test
  void everyPageLivesWithAModelWhoseJudgementIsDamaged() throws Exception {
    String model = "/models/" + MODEL;
    String compared = page(model + "/compare");
    String draft = page("/verdicts/draft?model=" + MODEL);
    assertThat(PAGES).contains(model, model + "/plan");
    JsonNode before = JSON.readTree(crawl.ask("/api/v1/comparisons").body());
    assertThat(before.has("unread")).isFalse();
    String name = name();
    try (Torn torn = new Torn(demo, "judgement", "judgement", "model_id = " + MODEL)) {
      assertThat(
              notShown(
                  "/api/v1/comparisons", "/api/v1/comparisons?strips=true", "/api/v1/head-to-head"))
          .as(torn.name)
          .isEmpty();
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
    assertThat(JSON.readTree(crawl.ask("/api/v1/comparisons").body())).isEqualTo(before);
  }

  @Test
  void everyPageLivesWithDueItemsThatAreDamaged() throws Exception {
    List<String> kinds = kindsDue();
    assertThat(kinds).isNotEmpty();
    try (Torn torn = new Torn(demo, "due_item", "item", "true")) {
      List<String> broken = notShown("/api/v1/feed.atom", "/api/v1/due.ics", "/metrics");
      broken.removeIf(a -> a.contains("/sheet?item="));
      assertThat(broken).as(torn.name).isEmpty();
      assertThat(words(crawl.ask("/due")))
          .contains("The rest of this item can't be read", "judged anew", "milewarden verify");
      assertThat(words(crawl.ask("/"))).contains("The rest of this item can't be read");
      assertThat(kindsDue()).containsExactlyElementsOf(kinds);
      for (JsonNode d : JSON.readTree(crawl.ask("/api/v1/due").body()).get("items"))
        assertThat(d.get("advice").asText()).contains("The rest of this item can't be");
    }
  }

  private static List<String> kindsDue() throws Exception {
    List<String> kinds = new ArrayList<>();
    for (JsonNode d : JSON.readTree(crawl.ask("/api/v1/due").body()).get("items"))
      kinds.add(d.get("model").asText() + d.get("severity").asText());
    return kinds;
  }

  @Test
  void everyListLivesWithAVerdictACourseAndAMessageThatAreDamaged() throws Exception {
    JsonNode verdicts = JSON.readTree(crawl.ask("/api/v1/verdicts").body()).get("items");
    JsonNode courses = JSON.readTree(crawl.ask("/api/v1/courses").body()).get("items");
    assertThat(courses.size()).isGreaterThan(1);
    String own =
        PAGES.stream().filter(p -> p.matches("/verdicts/\\d+/\\d+")).findFirst().orElseThrow();
    String model = name(own.split("/")[2]);
    String number = own.split("/")[3];
    JsonNode verdict = null;
    for (JsonNode v : verdicts)
      if (v.get("number").asText().equals(number) && v.get("model").asText().equals(model))
        verdict = v;
    assertThat(verdict).as(own).isNotNull();
    String id = verdict.get("id").asText();
    String words = verdict.get("words").asText();
    List<String> planned = planned(own.split("/")[2], verdict.get("firmware").asText());
    try (Torn record = new Torn(demo, "verdict", "record", "id = " + id);
        Torn quiet = new Torn(demo, "outbox", "quiet", "true")) {
      List<String> broken =
          notShown(
              "/api/v1/feed.atom",
              "/api/v1/due.ics",
              "/api/v1/verdicts",
              "/api/v1/courses",
              "/api/v1/alerts",
              "/api/v1/runs",
              "/api/v1/sessions");
      assertThat(broken)
          .as(record.name + quiet.name)
          .allMatch(a -> a.matches("/verdicts/\\d+/\\d+(/.*)?"), "is the verdict's own")
          .contains(own);
      assertThat(words(crawl.ask(own))).contains("published verdict can't be read");
      for (String address : planned)
        assertThat(words(crawl.ask(address)))
            .as(address)
            .contains(
                "Whether verdict " + number + " was published before the plan was at its end");
      assertThat(words(crawl.ask(planned.get(0))))
          .contains(
              "Nothing can be published on this model now", "verdict " + number + " on " + model);
      assertThat(words(crawl.ask("/verdicts")))
          .contains(words, "The stored record can't be read of verdict ", "backup that verifies");
      JsonNode rest = JSON.readTree(crawl.ask("/api/v1/verdicts").body());
      assertThat(rest.get("items")).hasSize(verdicts.size() - 1);
      assertThat(rest.get("unread").get(0).asText())
          .contains("verdict " + verdict.get("number").asText(), verdict.get("model").asText());
    }
    damage(demo, "delete from campaign_plan where planned_by = 'Cato'");
    String slug = courses.get(0).get("slug").asText();
    try (Torn torn = new Torn(demo, "course_version", "course", "slug = '" + slug + "'")) {
      assertThat(words(crawl.ask("/courses"))).as(torn.name).contains("line of the course " + slug);
      JsonNode left = JSON.readTree(crawl.ask("/api/v1/courses").body());
      assertThat(left.get("items")).hasSize(courses.size() - 1);
      assertThat(left.get("unread").get(0).asText()).contains(slug, "courses' folder");
      assertThat(notShown("/intake", "/courses/" + slug))
          .as("what is not the course's own, or drawn on its line")
          .allMatch(a -> a.startsWith("/courses/" + slug) || a.matches("/(runs|sessions)/.*"))
          .contains("/courses/" + slug);
    }
  }

  /** Plans a release, and says which pages tell how far that plan was kept. */
  private static List<String> planned(String model, String firmware) throws Exception {
    JsonNode compared = null;
    for (JsonNode c : JSON.readTree(crawl.ask("/api/v1/comparisons").body()).get("items"))
      if (c.get("model").asText().equals(name(model))
          && c.get("candidate").asText().equals(firmware)) compared = c;
    assertThat(compared).as("a comparison of " + firmware).isNotNull();
    String baseline = compared.get("baseline").asText();
    CampaignPlan plan =
        new CampaignPlan(
            name(model),
            firmware,
            baseline,
            List.of(new CampaignPlan.Planned("a-course", Carriage.FIXED, Gait.WALK)),
            List.of(),
            Policy.defaults().looks(),
            0.5,
            CampaignPlan.Stop.AT_THE_LAST_LOOK,
            "",
            "Cato",
            Instant.EPOCH);
    try (Database beside = Database.open(StoreSettings.in(demo), InstantSource.system())) {
      beside.change(tx -> Plans.put(tx, new ModelId(Long.parseLong(model)), plan));
    }
    return List.of(
        "/verdicts/draft?model=" + model + "&firmware=" + firmware,
        "/models/" + model + "/plan",
        "/models/" + model + "/compare?candidate=" + firmware + "&baseline=" + baseline,
        "/models/" + model + "/report.html?firmware=" + firmware);
  }

  @Test
  void aReportOnADamagedJudgementSaysWhenToAskAgain() throws Exception {
    String name = name();
    String firmware = "";
    for (JsonNode c : JSON.readTree(crawl.ask("/api/v1/comparisons").body()).get("items"))
      if (c.get("model").asText().equals(name)) firmware = c.get("candidate").asText();
    String report = "/models/" + MODEL + "/report.html?firmware=" + firmware;
    assertThat(crawl.ask(report).statusCode()).isEqualTo(200);
    try (Torn torn = new Torn(demo, "judgement", "judgement", "model_id = " + MODEL)) {
      HttpResponse<String> page = crawl.ask(report);
      // RFC 9110, sections 15.6.4 and 10.2.3.
      assertThat(page.statusCode()).as(torn.name).isEqualTo(503);
      assertThat(page.headers().firstValue("Retry-After")).hasValue("3600");
      assertThat(words(page))
          .contains("judgement of a model can't be read", "Ask again in an hour");
      HttpResponse<String> json = crawl.ask(report.replace("report.html", "report.json"));
      assertThat(json.statusCode()).isEqualTo(503);
      assertThat(json.headers().firstValue("Content-Type")).hasValue("application/problem+json");
      assertThat(JSON.readTree(json.body()).get("detail").asText()).contains("judged anew");
    }
    assertThat(crawl.ask(report).statusCode()).isEqualTo(200);
  }

  /** Which of the pages, and of these addresses beside them, are not answered with 200. */
  private static List<String> notShown(String... more) {
    Set<String> all = new TreeSet<>(PAGES);
    all.addAll(List.of(more));
    List<String> broken = new ArrayList<>();
    for (String address : all) if (crawl.ask(address).statusCode() != 200) broken.add(address);
    return broken;
  }

  private static String page(String beginning) {
    return PAGES.stream()
        .filter(a -> a.startsWith(beginning))
        .findFirst()
        .orElseThrow(() -> new AssertionError(beginning + " is not among " + PAGES));
  }

  private static String name() throws Exception {
    return name(MODEL);
  }

  private static String name(String id) throws Exception {
    for (JsonNode model : JSON.readTree(crawl.ask("/api/v1/models").body()).get("items"))
      if (model.get("id").asText().equals(id)) return model.get("name").asText();
    throw new AssertionError("model " + id);
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
