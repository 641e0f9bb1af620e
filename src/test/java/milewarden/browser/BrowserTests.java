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
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.extension.BeforeEachCallback;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.openqa.selenium.Dimension;
import org.openqa.selenium.JavascriptExecutor;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WindowType;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.WebDriverWait;

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

  /** ISO 216 (A4) and ANSI/ASME Y14.1 (Letter), inches. */
  protected static final double[] PAPER_WIDTHS = {210 / 25.4, 8.5};

  // The margins of @page: 13 mm in the pages, 16 mm in the report.
  private static final double PAPER_MARGIN_MM = 16;
  private static final List<String> LEVELS =
      List.of("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa");

  private static final AtomicInteger NOT_RUN = new AtomicInteger();

  /** How long a page may take to become what a test waits for; a machine under load takes long. */
  protected static final Duration PATIENCE = Duration.ofSeconds(60);

  private static final int HEIGHT = 900;

  /** The page is there, and every chart that has room to be drawn. */
  private static final String DRAWN =
      "return document.readyState === 'complete' && [...document.querySelectorAll('[data-chart]')]"
          + ".every(c => c.querySelector('svg'))";

  // A browser takes a second to start: each is used by one test after another.
  private static final Deque<ChromeDriver> IDLE = new ArrayDeque<>();

  static {
    Runtime.getRuntime().addShutdownHook(new Thread(() -> IDLE.forEach(ChromeDriver::quit)));
  }

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

  /** A new window of this width, that no page was ever open in; closed after the test. */
  protected ChromeDriver window(int width, boolean dark) {
    Optional<Browser> browser = Browser.find();
    ChromeDriver window = IDLE.isEmpty() ? browser.orElseThrow().open() : IDLE.pop();
    windows.add(window);
    String last = window.getWindowHandle();
    window.switchTo().newWindow(WindowType.TAB);
    String fresh = window.getWindowHandle();
    window.switchTo().window(last).close();
    window.switchTo().window(fresh);
    // Each server of a test has a port, and with it a store of its own, but for the cookies.
    window.manage().deleteAllCookies();
    window.executeCdpCommand("Network.clearBrowserCookies", Map.of());
    complaints(window);
    // A new tab isn't sure of the keyboard's focus, and without it no page is told of focus.
    window.executeCdpCommand("Emulation.setFocusEmulationEnabled", Map.of("enabled", true));
    window.manage().window().setSize(new Dimension(width, HEIGHT));
    show(window, width, dark);
    return window;
  }

  /** A window for a benchmark; to be quit by it. */
  public static ChromeDriver alone() {
    ChromeDriver window = Browser.find().orElseThrow().open();
    window.manage().timeouts().scriptTimeout(PATIENCE.multipliedBy(10));
    show(window, WIDE, false);
    return window;
  }

  @AfterEach
  void closeWindows() {
    windows.forEach(IDLE::push);
    windows.clear();
  }

  /** Lets a window look to its pages like one of this width, to a reader of light or of dark. */
  protected static void show(ChromeDriver window, int width, boolean dark) {
    window.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", HEIGHT, "deviceScaleFactor", 1, "mobile", false));
    window.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of(
            "features",
            List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
  }

  /** Waits for what happens in this window. */
  protected static WebDriverWait patient(ChromeDriver window) {
    return new WebDriverWait(window, PATIENCE);
  }

  /** Opens a page and waits until its charts are drawn. */
  protected static void open(ChromeDriver window, String address) {
    window.get(address);
    drawn(window);
  }

  /** Waits until the page and its charts are there. */
  protected static void drawn(ChromeDriver window) {
    patient(window)
        .withMessage(() -> "every chart of " + window.getCurrentUrl() + " is drawn")
        .until(w -> window.executeScript(DRAWN).equals(true));
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
    return found(window, Map.of("type", "tag", "values", LEVELS));
  }

  /** Words and marks that stand out too little, by the same rules. */
  protected static List<String> paleWords(ChromeDriver window) {
    return found(window, Map.of("type", "rule", "values", List.of("color-contrast")));
  }

  private static List<String> found(ChromeDriver window, Map<String, Object> which) {
    try (InputStream in = BrowserTests.class.getResourceAsStream("/axe.min.js")) {
      window.executeScript(new String(in.readAllBytes(), StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    window.manage().timeouts().scriptTimeout(PATIENCE);
    return texts(
        window.executeAsyncScript(
            "const done = arguments[arguments.length - 1];"
                + "axe.run(document, {runOnly: arguments[0]}).then("
                + "r => done(r.violations.flatMap(v => v.nodes.map("
                + "n => v.id + ': ' + v.help + ' at ' + n.target.join(' ')))),"
                + "e => done(['axe failed: ' + e]));",
            which));
  }

  /** Whatever the page asked of another host than its own, or of another port. */
  protected static List<String> fromElsewhere(ChromeDriver window, String home) {
    return texts(
        window.executeScript(
            "return performance.getEntriesByType('resource').map(e => e.name)"
                + ".filter(n => !n.startsWith(arguments[0] + '/') && !/^(data|blob):/.test(n))",
            home));
  }

  /** What reaches beyond the inner width of paper so wide when laid out for print. */
  protected static List<String> cutOff(ChromeDriver window, double inches) {
    // CSS Values and Units Level 4, 6.2: 96 px are an inch.
    int width = (int) Math.floor((inches - 2 * PAPER_MARGIN_MM / 25.4) * 96);
    window.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
    window.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", 1000, "deviceScaleFactor", 1, "mobile", false));
    List<String> found =
        texts(
            window.executeScript(
                "return [...document.querySelectorAll('body *')].filter(e => !e.closest('svg'))"
                    + ".filter(e => { const b = e.getBoundingClientRect();"
                    + " return b.width > 1 && b.right > innerWidth + 1; })"
                    + ".map(e => e.tagName + '.' + e.className + ': '"
                    + " + e.textContent.trim().slice(0, 40))"));
    window.executeCdpCommand("Emulation.clearDeviceMetricsOverride", Map.of());
    window.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", ""));
    return found;
  }

  /** A list that a script returned. */
  protected static List<String> texts(Object list) {
    return ((List<?>) list).stream().map(String::valueOf).toList();
  }

  /** What the page's scripts and the browser complained of: errors and refusals. */
  protected static List<String> complaints(ChromeDriver window) {
    return window.manage().logs().get("browser").getAll().stream()
        .filter(e -> e.getLevel().intValue() >= java.util.logging.Level.SEVERE.intValue())
        .map(e -> e.getMessage())
        .toList();
  }
}
