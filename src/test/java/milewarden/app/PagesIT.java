package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.browser.BrowserTests;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Every page of the demo in a real browser: wide and narrow, light and dark, without scripts. */
final class PagesIT extends BrowserTests {
  private static final Duration PATIENCE = Duration.ofSeconds(30);

  private static App app;

  @BeforeAll
  static void serveTheDemo() {
    PlayedDemo demo = PlayedDemo.once();
    app = demo.serve(demo.config);
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  static Stream<String> pages() {
    return Stream.of(
        "",
        "due",
        "intake",
        "courses",
        "courses/ondry-loop",
        "verdicts",
        "verdicts/1/1",
        "verdicts/draft?model=1&firmware=2.1.0",
        "alerts",
        "alerts/items/1",
        "settings",
        "settings/mail",
        "demo",
        "models/1",
        "models/2",
        "models/3",
        "models/1/sheet",
        "head-to-head",
        "models/1/compare?candidate=2.0.0&baseline=1.5.0",
        "runs/5",
        "runs/7",
        "models/1/plan",
        "courses/ondry-loop/line",
        "courses/ondry-loop/measure",
        aSession(),
        "sessions/none");
  }

  /** A session's address as the model's page links it. */
  private static String aSession() {
    try {
      HttpRequest request = HttpRequest.newBuilder(URI.create(address("models/1"))).build();
      String html = HttpClient.newHttpClient().send(request, BodyHandlers.ofString()).body();
      Matcher link = Pattern.compile("href=\"/(sessions/[^\"]+)\"").matcher(html);
      assertThat(link.find()).as("the model's page links its sessions").isTrue();
      return link.group(1);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  private static String address(String page) {
    return "http://127.0.0.1:" + app.port() + "/" + page;
  }

  /** Opens the page and waits until its charts are drawn. */
  private static void open(ChromeDriver window, String page) {
    window.get(address(page));
    new WebDriverWait(window, PATIENCE)
        .until(
            w ->
                ((ChromeDriver) w)
                    .executeScript(
                        "return document.readyState === 'complete' &&"
                            + " [...document.querySelectorAll('[data-chart]')]"
                            + ".every(c => c.querySelector('svg'))")
                    .equals(true));
  }

  @ParameterizedTest
  @MethodSource("pages")
  void aPageFitsEveryWindowAndKeepsNobodyOut(String page) {
    boolean missing = page.endsWith("none");
    ChromeDriver window = window(WIDE, false);
    for (int width : new int[] {NARROW, WIDE})
      for (String scheme : new String[] {"light", "dark"}) {
        String where = page + " at " + width + " " + scheme;
        emulate(window, width, scheme);
        open(window, page);
        assertThat(sidewaysScroll(window)).as("sideways scroll of " + where).isZero();
        assertThat(barriers(window)).as("barriers of " + where).isEmpty();
        // The browser itself complains of the answer 404 of a page that is not there.
        if (!missing) assertThat(complaints(window)).as("complaints of " + where).isEmpty();
        String name = page.isEmpty() ? "overview" : page.replaceAll("\\W+", "-");
        screenshot(window, name + "-" + width + "-" + scheme);
      }
  }

  private static void emulate(ChromeDriver window, int width, String scheme) {
    window.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", 900, "deviceScaleFactor", 1, "mobile", false));
    window.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", scheme))));
  }

  @Test
  void withoutScriptsTheFiguresBehindAChartStandInATable() {
    ChromeDriver window = window(WIDE, false);
    window.executeCdpCommand("Emulation.setScriptExecutionDisabled", Map.of("value", true));
    window.get(address("models/1"));
    assertThat(window.findElements(By.cssSelector("[data-chart] svg"))).isEmpty();
    assertThat(window.findElement(By.tagName("body")).getText()).contains("2.0.0");
    assertThat(window.findElements(By.cssSelector("details table tbody tr")))
        .as("sessions as a table")
        .hasSizeGreaterThan(20);
  }
}
