package milewarden.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import milewarden.browser.BrowserTests;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;

/**
 * How long frames take while a crowded plan is moved, in a real browser without a graphics card.
 */
public final class PlanMoves {
  // A long task by the W3C's Long Tasks API: 50 ms.
  private static final double LONG_MS = 50;

  private PlanMoves() {}

  /**
   * Frames of one kind of movement, milliseconds.
   *
   * @param over frames longer than 50 ms
   * @param worked of the processor for each frame, by the page's own thread: what does not depend
   *     on how busy the machine is with other things
   */
  public record Line(
      String what,
      int frames,
      double median,
      double p95,
      double longest,
      int over,
      double worked) {}

  public static List<Line> run(Path folder) throws Exception {
    ChromeDriver window = BrowserTests.alone();
    try (App app = new Household(folder).serve()) {
      String page = "http://127.0.0.1:" + app.port() + "/courses/pier";
      Await.until(
          "the course is there",
          window::getCurrentUrl,
          () -> {
            window.get(page);
            return !window.findElements(By.cssSelector("[data-chart=plan] svg")).isEmpty();
          });
      CrowdedPlan.fill(window);
      List<Line> lines = new ArrayList<>();
      for (int round = 0; round < 2; round++) {
        // The first round is for the compiler of the scripts.
        lines.clear();
        for (String what : CrowdedPlan.MOVES) {
          double before = CrowdedPlan.worked(window);
          List<Number> times = CrowdedPlan.move(window, what);
          lines.add(line(what, times, CrowdedPlan.worked(window) - before));
        }
      }
      return lines;
    } finally {
      window.quit();
    }
  }

  private static Line line(String what, List<Number> times, double workedS) {
    double[] ms = times.stream().mapToDouble(Number::doubleValue).sorted().toArray();
    int over = (int) times.stream().filter(t -> t.doubleValue() > LONG_MS).count();
    return new Line(
        what,
        ms.length,
        ms[ms.length / 2],
        ms[ms.length * 95 / 100],
        ms[ms.length - 1],
        over,
        1000 * workedS / ms.length);
  }
}
