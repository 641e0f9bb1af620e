package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.browser.BrowserTests;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.openqa.selenium.chrome.ChromeDriver;

/** The main pages and the report as PDF, A4 and Letter: as few pages as they need. */
final class PrintIT extends BrowserTests {
  // ISO 216 and ANSI/ASME Y14.1, inches.
  private static final Map<String, double[]> PAPERS =
      Map.of("a4", new double[] {210 / 25.4, 297 / 25.4}, "letter", new double[] {8.5, 11});
  private static final Pattern PAGE = Pattern.compile("/Type\\s*/Page\\b(?!s)");

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
    open(window, "http://127.0.0.1:" + app.port() + "/" + page);
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
}
