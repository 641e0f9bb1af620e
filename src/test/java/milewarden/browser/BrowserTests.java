package milewarden.browser;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.extension.BeforeEachCallback;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.openqa.selenium.JavascriptExecutor;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.chrome.ChromeDriver;

/**
 * For tests in a real browser: extend it in a class named {@code ...IT} (run by {@code mvn
 * verify}). Where no browser can be had, each is reported as not run, with its number, in the
 * build's output; with MILEWARDEN_BROWSER_TESTS=required that is a failure.
 */
@org.junit.jupiter.api.extension.ExtendWith(BrowserTests.Needed.class)
public abstract class BrowserTests {
  /** Widths at which every page must be good: a telephone's and a desk's. */
  protected static final int NARROW = 360;

  protected static final int WIDE = 1440;

  private static final AtomicInteger NOT_RUN = new AtomicInteger();

  private final List<ChromeDriver> windows = new ArrayList<>();

  /** Skips a test, or fails it, where there is no browser. */
  static final class Needed implements BeforeEachCallback {
    @Override
    public void beforeEach(ExtensionContext test) {
      if (Browser.find().isPresent()) return;
      String what =
          "BROWSER TEST NOT RUN (number "
              + NOT_RUN.incrementAndGet()
              + "): "
              + test.getRequiredTestClass().getSimpleName()
              + "."
              + test.getDisplayName()
              + ": no Chromium with chromedriver; name them by CHROMIUM and CHROMEDRIVER, or install"
              + " Debian's packages chromium and chromium-driver.";
      if ("required".equals(System.getenv("MILEWARDEN_BROWSER_TESTS"))) fail(what);
      System.err.println(what);
      assumeTrue(false, what);
    }
  }

  /** A window of this width; closed after the test. */
  protected ChromeDriver window(int width, boolean dark) {
    Optional<Browser> browser = Browser.find();
    ChromeDriver window = browser.orElseThrow().open(width, 900, dark);
    windows.add(window);
    return window;
  }

  @AfterEach
  void closeWindows() {
    windows.forEach(ChromeDriver::quit);
    windows.clear();
  }

  /** Leaves a picture of the page under target/screens. */
  protected static Path screenshot(ChromeDriver window, String name) {
    try {
      Path folder = Files.createDirectories(Path.of("target", "screens"));
      return Files.write(folder.resolve(name + ".png"), window.getScreenshotAs(OutputType.BYTES));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** How many pixels the page is wider than its window: 0 unless it scrolls sideways. */
  protected static long sidewaysScroll(JavascriptExecutor window) {
    Object pixels =
        window.executeScript(
            "return document.documentElement.scrollWidth - document.documentElement.clientWidth");
    return ((Number) pixels).longValue();
  }

  /** What keeps readers out of this page by WCAG 2.2 at levels A and AA, as axe finds it. */
  protected static List<String> barriers(ChromeDriver window) {
    try (InputStream in = BrowserTests.class.getResourceAsStream("/axe.min.js")) {
      window.executeScript(new String(in.readAllBytes(), StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    window.manage().timeouts().scriptTimeout(Duration.ofSeconds(60));
    Object found =
        window.executeAsyncScript(
            "const done = arguments[arguments.length - 1];"
                + "const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];"
                + "axe.run(document, {runOnly: {type: 'tag', values: tags}}).then("
                + "r => done(r.violations.flatMap(v => v.nodes.map("
                + "n => v.id + ': ' + v.help + ' at ' + n.target.join(' ')))),"
                + "e => done(['axe failed: ' + e]));");
    return ((List<?>) found).stream().map(String::valueOf).toList();
  }

  /** What the page's scripts and the browser complained of: errors and refusals. */
  protected static List<String> complaints(ChromeDriver window) {
    return window.manage().logs().get("browser").getAll().stream()
        .filter(e -> e.getLevel().intValue() >= java.util.logging.Level.SEVERE.intValue())
        .map(e -> e.getMessage())
        .toList();
  }
}
