package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URLEncoder;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.app.EveryPage.Page;
import milewarden.app.EveryPage.Where;
import milewarden.browser.BrowserTests;
import milewarden.people.Role;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.people.Staff;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.openqa.selenium.By;
import org.openqa.selenium.Cookie;
import org.openqa.selenium.chrome.ChromeDriver;

/**
 * Every page in each of its states, in a real browser: wide and narrow, light and dark, on paper,
 * without scripts.
 */
final class PagesIT extends BrowserTests {
  private static final String PASSPHRASE = "meadow kettle ninety lantern";
  private static final Pattern SESSION = Pattern.compile("href=\"/(sessions/[^\"]+)\"");

  @TempDir private static Path folder;
  private static final Map<Where, App> APPS = new EnumMap<>(Where.class);
  private static Browsing keeper;
  private static String session = "";
  private static String dryRun = "";

  @BeforeAll
  static void serve() throws Exception {
    PlayedDemo demo = PlayedDemo.once();
    APPS.put(Where.DEMO, demo.serve(demo.publicly()));
    APPS.put(
        Where.EMPTY,
        new App(DemoCommand.config(folder.resolve("new"), Optional.of(0)), InstantSource.system())
            .start());
    App house = serveAHouse();
    APPS.put(Where.HOUSE, house);
    APPS.put(Where.STREET, house);
    keeper = new Browsing(house.port());
    assertThat(keeper.login("Ada", PASSPHRASE).statusCode()).isEqualTo(303);
    dryRun = aDryRun();
    Matcher link = SESSION.matcher(new Crawl(home(Where.DEMO)).ask("/models/1").body());
    assertThat(link.find()).as("the model's page links its sessions").isTrue();
    session = link.group(1);
  }

  /** Three walks, one of which the sheet says nothing of, and a file that is none. */
  private static App serveAHouse() throws Exception {
    Household house = new Household(folder);
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      assertThat(Staff.add(database, "Ada", Role.KEEPER, PASSPHRASE)).isEmpty();
      assertThat(Staff.add(database, "Tom", Role.TESTER, PASSPHRASE)).isEmpty();
      App app = house.serve();
      StringBuilder rows = new StringBuilder();
      for (int i = 0; i < 3; i++) {
        house.drop("all/w" + i + ".gpx", Household.track(Household.day(i), i));
        if (i < 2)
          rows.append(Household.row("B" + i, Household.day(i), "w" + i + ".gpx", "1.0", "0.401"));
      }
      house.dropSheet("all/session.csv", rows.toString());
      house.drop("all/torn.gpx", "<gpx><trk>".getBytes(StandardCharsets.UTF_8));
      Await.until(
          "two runs, a file that waits and one that is refused",
          () -> database.read(ReceivedFiles::counts),
          () ->
              database.read(ReceivedFiles::counts).getOrDefault(State.WAITING, 0) == 1
                  && database.read(ReceivedFiles::counts).getOrDefault(State.REFUSED, 0) == 1);
      house.drop("K2/2.0/again.gpx", Household.track(Household.day(0), 0));
      Await.until(
          "the same bytes once more",
          () -> database.read(ReceivedFiles::counts),
          () -> database.read(ReceivedFiles::counts).getOrDefault(State.DUPLICATE, 0) == 1);
      Season.atRest(database);
      return app;
    }
  }

  /** Other rules tried over the house's history, as its form sends them. */
  private static String aDryRun() throws Exception {
    Markup page = new Markup(keeper.get("/settings/dry-run", "Accept", "text/html").body());
    String fields =
        page.forms.get(1).fields().stream()
            .map(f -> f.element().attribute("name") + "=" + encoded(f.value()))
            .collect(Collectors.joining("&"));
    HttpResponse<String> begun = keeper.get("/settings/dry-run?" + fields, "Accept", "text/html");
    return begun
        .headers()
        .firstValue("Location")
        .orElseThrow()
        .replaceFirst("^.*?/(?=settings)", "");
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  @AfterAll
  static void stop() {
    Set.copyOf(APPS.values()).forEach(App::close);
    APPS.clear();
  }

  static List<Page> pages() {
    return EveryPage.all();
  }

  private static String home(Where where) {
    return "http://127.0.0.1:" + APPS.get(where).port();
  }

  private static String address(Page page) {
    return home(page.where())
        + "/"
        + page.address().replace("{session}", session).replace("{dry-run}", dryRun);
  }

  private ChromeDriver windowAt(Page page) {
    ChromeDriver window = window(WIDE, false);
    if (page.where() == Where.HOUSE) {
      // A cookie can be given on a page of its host alone.
      window.get(home(page.where()) + "/health");
      keeper.cookies().forEach((name, value) -> window.manage().addCookie(new Cookie(name, value)));
    }
    complaints(window);
    return window;
  }

  @Test
  void everyRouteThatAnswersAReaderIsLookedAt() {
    Set<String> routes = new TreeSet<>(APPS.get(Where.DEMO).routes());
    routes.addAll(APPS.get(Where.HOUSE).routes());
    assertThat(routes).contains("GET /models/{id}", "GET /demo", "GET /login");
    assertThat(EveryPage.withoutALine(List.copyOf(routes)))
        .as("routes without a line in EveryPage")
        .isEmpty();
    assertThat(EveryPage.withoutALine(List.of("GET /new-page", "POST /x", "GET /")))
        .as("one that has none")
        .containsExactly("/new-page");
  }

  // Seven lines for each of 200 rows are twenty screens too many.
  @Test
  void aSessionTakesThreeLinesAtMostOnATelephone() {
    ChromeDriver window = window(NARROW, false);
    window.get(home(Where.DEMO) + "/models/1/sessions");
    double lines =
        ((Number)
                window.executeScript(
                    "const line = parseFloat(getComputedStyle(document.body).lineHeight);"
                        + " return Math.max(...[...document.querySelectorAll('main tbody tr')]"
                        + ".map(r => [...r.children].map(c => c.getBoundingClientRect()))"
                        + ".map(c => Math.max(...c.map(b => b.bottom))"
                        + " - Math.min(...c.map(b => b.top)))) / line"))
            .doubleValue();
    assertThat(lines).isBetween(1.0, 3.0);
  }

  @ParameterizedTest
  @MethodSource("pages")
  void aPageFitsEveryWindowAndKeepsNobodyOut(Page page) {
    ChromeDriver window = windowAt(page);
    for (int width : new int[] {WIDE, NARROW}) {
      show(window, width, false);
      open(window, address(page));
      // What is folded is looked at in the narrow window.
      if (width == NARROW)
        window.executeScript("document.querySelectorAll('details').forEach(d => d.open = true)");
      String where = page + " at " + width;
      assertThat(window.getCurrentUrl()).as(where).isEqualTo(address(page));
      for (boolean dark : new boolean[] {false, true}) {
        show(window, width, dark);
        String lit = where + (dark ? " dark" : " light");
        assertThat(sidewaysScroll(window)).as("sideways scroll of " + lit).isZero();
        // Nothing but colours differs by the scheme.
        assertThat(dark ? paleWords(window) : barriers(window)).as("barriers of " + lit).isEmpty();
        screenshot(window, page.name() + "-" + width + (dark ? "-dark" : "-light"));
      }
      assertThat(fromElsewhere(window, home(page.where()))).as(where).isEmpty();
      // The browser itself complains of an answer that is an error.
      if (!page.isError()) assertThat(complaints(window)).as("complaints of " + where).isEmpty();
    }
    for (double inches : PAPER_WIDTHS)
      assertThat(cutOff(window, inches)).as(page + " on paper of " + inches + " in").isEmpty();
  }

  @ParameterizedTest
  @MethodSource("pages")
  void aPageCanBeReadWithoutScripts(Page page) {
    ChromeDriver window = windowAt(page);
    window.executeCdpCommand("Emulation.setScriptExecutionDisabled", Map.of("value", true));
    show(window, NARROW, false);
    window.get(address(page));
    assertThat(window.findElement(By.tagName("h1")).getText()).as(page.toString()).isNotBlank();
    assertThat(window.findElements(By.cssSelector("[data-chart] svg"))).isEmpty();
    assertThat(sidewaysScroll(window)).as("sideways scroll of " + page).isZero();
    assertThat(idle(window)).as("what does nothing without a script on " + page).isEmpty();
  }

  /** Buttons that are seen and belong to no form, and charts without a table to read instead. */
  private static List<String> idle(ChromeDriver window) {
    return texts(
        window.executeScript(
            "const seen = e => e.checkVisibility({visibilityProperty: true});"
                + "const twin = 'table, textarea, dl, ul';"
                + "return [...[...document.querySelectorAll('button')]"
                + ".filter(b => seen(b) && !b.form).map(b => 'button ' + b.textContent.trim()),"
                + "...[...document.querySelectorAll('[data-chart]')]"
                + ".filter(c => !(c.closest('figure') ?? document).querySelector(twin)"
                + " && !document.querySelector('textarea'))"
                + ".map(c => 'chart ' + c.dataset.chart)]"));
  }
}
