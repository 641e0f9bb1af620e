package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.browser.BrowserTests;
import milewarden.simulator.Campaign;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.WebDriverWait;

/** The main pages and the report on paper, A4 and Letter: nothing cut off at a side. */
final class PrintIT extends BrowserTests {
  private static final Duration PATIENCE = Duration.ofSeconds(30);
  // ISO 216 and ANSI/ASME Y14.1, inches.
  private static final Map<String, double[]> PAPERS =
      Map.of("a4", new double[] {210 / 25.4, 297 / 25.4}, "letter", new double[] {8.5, 11});
  // The margins of @page: 13 mm in the pages, 16 mm in the report.
  private static final double MARGIN_MM = 16;
  private static final Pattern PAGE = Pattern.compile("/Type\\s*/Page\\b(?!s)");

  @TempDir private static Path folder;
  private static App app;

  @BeforeAll
  static void serveTheDemo() {
    InstantSource clock = InstantSource.system();
    Config config = DemoCommand.config(folder.resolve("demo"), Optional.of(0));
    DemoRecord record = DemoCommand.prepare(config, clock, new PrintWriter(new StringWriter()));
    assertThat(Campaign.invented(record.day(), record.seed()).events()).isNotEmpty();
    app = new App(config, clock).start();
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  static Stream<Arguments> pages() {
    return Stream.of(
        Arguments.of("", "overview", 3),
        Arguments.of("due", "due", 4),
        Arguments.of("models/1", "model", 6),
        Arguments.of("models/1/compare?candidate=2.0.0&baseline=1.5.0", "comparison", 6),
        Arguments.of("models/1/sheet", "sheet", 1),
        Arguments.of("head-to-head", "head", 2),
        Arguments.of("runs/5", "run", 7),
        Arguments.of("verdicts/1/1", "verdict", 3),
        Arguments.of("models/1/report.html?firmware=2.0.0", "report", 6));
  }

  /**
   * @param most pages, some room above what it takes: a chart that falls apart or a table that
   *     becomes labelled lines takes more
   */
  @ParameterizedTest
  @MethodSource("pages")
  void aPageFitsItsPaper(String page, String name, int most) throws IOException {
    ChromeDriver window = window(WIDE, true);
    window.get("http://127.0.0.1:" + app.port() + "/" + page);
    new WebDriverWait(window, PATIENCE)
        .until(
            w ->
                ((ChromeDriver) w)
                    .executeScript(
                        "return document.readyState === 'complete' &&"
                            + " [...document.querySelectorAll('[data-chart]')]"
                            + ".every(c => c.querySelector('svg'))")
                    .equals(true));
    for (Map.Entry<String, double[]> paper : PAPERS.entrySet()) {
      double[] inches = paper.getValue();
      String where = name + " on " + paper.getKey();
      byte[] pdf = print(window, inches);
      Files.write(
          Files.createDirectories(Path.of("target", "screens"))
              .resolve(name + "-" + paper.getKey() + ".pdf"),
          pdf);
      int pages = pages(pdf);
      assertThat(pages).as("pages of " + where).isBetween(1, most);
      assertThat(cutOff(window, inches)).as("cut off in " + where).isEmpty();
    }
  }

  private static byte[] print(ChromeDriver window, double[] inches) {
    Map<String, Object> pdf =
        window.executeCdpCommand(
            "Page.printToPDF",
            Map.of(
                "paperWidth",
                inches[0],
                "paperHeight",
                inches[1],
                "preferCSSPageSize",
                false,
                "printBackground",
                false));
    return Base64.getDecoder().decode(String.valueOf(pdf.get("data")));
  }

  /** Pages by their objects (ISO 32000-1, 7.7.3.3), as Chromium leaves them uncompressed. */
  private static int pages(byte[] pdf) {
    Matcher m = PAGE.matcher(new String(pdf, StandardCharsets.ISO_8859_1));
    int pages = 0;
    while (m.find()) pages++;
    return pages;
  }

  /** What reaches beyond the paper's inner width when laid out for print at that width. */
  private static List<String> cutOff(ChromeDriver window, double[] inches) {
    int width = (int) Math.floor((inches[0] - 2 * MARGIN_MM / 25.4) * 96);
    window.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
    window.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", 1000, "deviceScaleFactor", 1, "mobile", false));
    Object found =
        window.executeScript(
            "return [...document.querySelectorAll('body *')].filter(e => !e.closest('svg'))"
                + ".filter(e => { const b = e.getBoundingClientRect();"
                + " return b.width > 1 && b.right > innerWidth + 1; })"
                + ".map(e => e.tagName + '.' + e.className + ': ' + e.textContent.trim().slice(0, 40))");
    window.executeCdpCommand("Emulation.clearDeviceMetricsOverride", Map.of());
    window.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", ""));
    return ((List<?>) found).stream().map(String::valueOf).toList();
  }
}
