package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import milewarden.browser.BrowserTests;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.interactions.Actions;

/**
 * A plan of twenty tracks of 3,600 fixes: what is left out to draw it quickly can't be seen, and
 * what it says of a fix is of that fix. How quickly is measured by {@code benchmark.PlanFrames}.
 */
final class PlanIT extends BrowserTests {
  /** How far each fix lies, in pixels, from the track as it is drawn: the farthest of all. */
  private static final String FARTHEST =
      """
      const ways = [...document.querySelectorAll('[data-chart=plan] svg path[stroke-width="1.75"]')];
      const drawn = ways.map((w) => w.getAttribute('d').split(/[ML]/).slice(1)
        .map((p) => p.split(' ').map(Number)));
      const first = drawn[0][0], last = drawn[0][drawn[0].length - 1];
      // The scale by the first and the last fix, which are always drawn.
      const p = crowded.tracks[0].points, a = p[0], b = p[p.length >> 1];
      const box = document.querySelector('[data-chart=plan] svg');
      const radius = Math.max(...drawn.flat().map((q) => q[1])) - Math.min(...drawn.flat().map((q) => q[1]));
      const all = crowded.tracks.flatMap((t) => t.points);
      const ys = all.map((q) => q[1]), xs = all.map((q) => q[0]);
      const scale = radius / (Math.max(...ys) - Math.min(...ys));
      const x0 = first[0] - scale * a[0], y0 = first[1] + scale * a[1];
      let farthest = 0, kept = 0;
      crowded.tracks.forEach((track, t) => {
        const line = drawn[t];
        kept += line.length;
        let from = 0;
        for (const point of track.points) {
          const x = x0 + scale * point[0], y = y0 - scale * point[1];
          let best = Infinity;
          for (let i = Math.max(0, from - 30); i < Math.min(line.length - 1, from + 30); i++) {
            const [ax, ay] = line[i], dx = line[i + 1][0] - ax, dy = line[i + 1][1] - ay;
            const s = dx * dx + dy * dy;
            const along = s === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / s));
            const off = Math.hypot(x - ax - along * dx, y - ay - along * dy);
            if (off < best) { best = off; from = i; }
          }
          farthest = Math.max(farthest, best);
        }
      });
      return [farthest, kept, ways.length]""";

  @TempDir private static Path folder;
  private static App app;
  private ChromeDriver window;

  @BeforeAll
  static void serveACourse() throws Exception {
    app = new Household(folder).serve();
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  @BeforeEach
  void crowdThePlan() {
    window = window(WIDE, false);
    patient(window)
        .until(
            w -> {
              open(window, "http://127.0.0.1:" + app.port() + "/courses/pier");
              return !w.findElements(By.cssSelector("[data-chart=plan] svg")).isEmpty();
            });
    CrowdedPlan.fill(window);
  }

  @Test
  void noFixLiesFartherFromTheDrawnTrackThanCanBeSeen() {
    List<?> found = (List<?>) window.executeScript(FARTHEST);
    assertThat(((Number) found.get(2)).intValue()).isEqualTo(CrowdedPlan.TRACKS);
    // A quarter of a pixel is left out on purpose; places are written to a tenth, and the scale is
    // found from such places.
    assertThat(((Number) found.get(0)).doubleValue()).isCloseTo(0.25, within(0.25));
    assertThat(((Number) found.get(1)).intValue())
        .as("points drawn of all")
        .isLessThan(CrowdedPlan.TRACKS * CrowdedPlan.FIXES);
  }

  @Test
  void fromCloseByAFixSaysWhichItIsAndHowFarOffTheLine() {
    CrowdedPlan.comeCloser(window, 32);
    patient(window)
        .until(
            w ->
                w
                    .findElements(By.cssSelector("[data-chart=plan] path[stroke-linecap=round]"))
                    .stream()
                    .anyMatch(p -> p.getDomAttribute("d") != null));
    List<?> place =
        (List<?>)
            window.executeScript(
                "const svg = document.querySelector('[data-chart=plan] svg');"
                    + "svg.scrollIntoView({block: 'center'}); const b = svg.getBoundingClientRect();"
                    + "const dots = [...svg.querySelectorAll('path[stroke-linecap=round]')]"
                    + ".map(p => (p.getAttribute('d') ?? '').split('M').slice(1)"
                    + ".map(d => d.replace('h0', '').split(' ').map(Number)));"
                    + "const scale = b.width / svg.viewBox.baseVal.width;"
                    + "const [t, d] = dots.map((d, t) => [t, d.find(([x, y]) => x > 60 && y > 60"
                    + " && x < svg.viewBox.baseVal.width - 60 && y < svg.viewBox.baseVal.height - 60)])"
                    + ".find(([, d]) => d);"
                    + "return [Math.round(b.left + scale * d[0]), Math.round(b.top + scale * d[1])]");
    new Actions(window)
        .moveToLocation(((Number) place.get(0)).intValue(), ((Number) place.get(1)).intValue())
        .perform();
    String said =
        patient(window)
            .until(
                w -> {
                  String tip = w.findElement(By.cssSelector("[data-chart=plan] .tip")).getText();
                  return tip.contains("fix") ? tip : null;
                });
    // The nearest of all 72,000 by the data alone: the place on the screen back into metres.
    List<?> nearest =
        (List<?>)
            window.executeScript(
                "const svg = document.querySelector('[data-chart=plan] svg');"
                    + "const b = svg.getBoundingClientRect(), w = svg.viewBox.baseVal.width;"
                    + "const h = svg.viewBox.baseVal.height, z = svg.__zoom;"
                    + "const all = [...crowded.line, ...crowded.tracks.flatMap(t => t.points)];"
                    + "const [west, east] = d3.extent(all, p => p[0]);"
                    + "const [south, north] = d3.extent(all, p => p[1]);"
                    + "const s = Math.min((w - 88) / (east - west), (h - 88) / (north - south));"
                    + "const px = z.invertX((arguments[0] - b.left) * w / b.width);"
                    + "const py = z.invertY((arguments[1] - b.top) * w / b.width);"
                    + "const mx = (west + east) / 2 + (px - w / 2) / s;"
                    + "const my = (south + north) / 2 - (py - h / 2) / s;"
                    + "let best = Infinity, found; crowded.tracks.forEach(t => t.points.forEach((p, i) => {"
                    + "const d = Math.hypot(p[0] - mx, p[1] - my);"
                    + "if (d < best) { best = d; found = [t.name, i + 1,"
                    + "Math.hypot(p[0] - t.feet[i][0], p[1] - t.feet[i][1]).toFixed(1)]; } }));"
                    + "return found",
                place.get(0),
                place.get(1));
    String fix =
        String.format(java.util.Locale.ENGLISH, "%,d", ((Number) nearest.get(1)).intValue());
    assertThat(said)
        .isEqualTo(
            nearest.get(0) + ", fix " + fix + " of 3,600, " + nearest.get(2) + " m off the line");
  }
}
