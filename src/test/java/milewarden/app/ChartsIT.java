package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import milewarden.browser.BrowserTests;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;

/** Every chart of every page keeps what is promised of each: asked of the drawn pages. */
final class ChartsIT extends BrowserTests {
  private static final List<String> PAGES =
      List.of(
          "models/1",
          "models/1/compare?candidate=2.0.0&baseline=1.5.0",
          "runs/5",
          "courses/ondry-loop",
          "courses/ondry-loop/line");
  // All charts of these pages: the model's four, the comparison's four, the run's five, two plans.
  private static final int CHARTS = 15;

  private static final String LACKING =
      """
      return [...document.querySelectorAll('[data-chart]')].flatMap(place => {
        const figure = place.closest('figure');
        if (!figure) return [place.dataset.chart + ' stands in no figure'];
        const svg = place.querySelector('svg');
        const words = (which) => figure.querySelector(which)?.textContent.trim() ?? '';
        const buttons = [...figure.querySelectorAll('.tools button')].map(b => b.textContent);
        const reached = [...svg.querySelectorAll('[data-tip], [tabindex]')].filter(m => m.tabIndex === 0);
        const lacks = {
          'a heading in words': words('h2, h3').split(/\\s+/).length > 2,
          'a caption with its n': /\\d/.test(words('figcaption')) && words('figcaption').length > 20,
          'a name for who does not see it': (svg.getAttribute('aria-label') ?? '').length > 5,
          'marks that say numbers': svg.querySelector('[data-tip]') !== null,
          'a stop for the keyboard': reached.length > 0,
          'few stops': place.dataset.kind !== 'editor' ? reached.length < 9 : true,
          'a twin to read': (place.dataset.kind === 'editor' ? document : figure)
            .querySelector('table, textarea') !== null,
          'SVG': buttons.includes('Save as SVG'),
          'PNG': buttons.includes('Save as PNG'),
        };
        return Object.entries(lacks).filter(([, has]) => !has)
          .map(([what]) => place.dataset.chart + ' lacks ' + what);
      })""";

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

  private static void openPage(ChromeDriver window, String page) {
    open(window, "http://127.0.0.1:" + app.port() + "/" + page);
  }

  @Test
  void everyChartHasItsWordsItsNumbersItsTwinAndItsFiles() {
    ChromeDriver window = window(WIDE, false);
    int charts = 0;
    for (String page : PAGES) {
      openPage(window, page);
      assertThat((List<?>) window.executeScript(LACKING)).as(page).isEmpty();
      charts += window.findElements(By.cssSelector("[data-chart]")).size();
      assertThat(complaints(window)).as(page).isEmpty();
    }
    assertThat(charts).isGreaterThanOrEqualTo(CHARTS);
  }

  @Test
  void theArrowsGoFromMarkToMarkAndEachSaysItsNumbers() {
    ChromeDriver window = window(WIDE, false);
    for (String chart : List.of("excess", "offset", "speed", "ladder")) {
      openPage(window, "runs/5");
      WebElement place = window.findElement(By.cssSelector("[data-chart=" + chart + "]"));
      WebElement first = place.findElement(By.cssSelector("[data-tip][tabindex='0']"));
      window.executeScript("arguments[0].focus()", first);
      String said = place.findElement(By.className("tip")).getText();
      assertThat(said).as(chart).containsPattern("\\d");
      first.sendKeys(Keys.ARROW_RIGHT);
      WebElement now = window.switchTo().activeElement();
      assertThat(now).as(chart).isNotEqualTo(first);
      assertThat(place.findElement(By.className("tip")).getText()).as(chart).isNotEqualTo(said);
    }
  }

  @Test
  void aChartSavedAsSvgStandsAloneAndInInkOnPaperWhenPrinted() {
    ChromeDriver window = window(WIDE, true);
    openPage(window, "models/1");
    window.executeScript(
        "window.saved = []; const make = URL.createObjectURL;"
            + "URL.createObjectURL = b => { b.text().then(t => window.saved.push(t)); return make(b); };");
    window.findElement(By.xpath("//button[.='Save as SVG']")).click();
    String svg =
        patient(window)
            .until(w -> (String) ((ChromeDriver) w).executeScript("return window.saved[0]"));
    assertThat(svg).startsWith("<svg").contains("xmlns=").doesNotContain("var(--");
    window.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
    assertThat(window.findElements(By.className("tools"))).noneMatch(WebElement::isDisplayed);
    assertThat(window.findElement(By.cssSelector("[data-chart] svg")).isDisplayed()).isTrue();
  }

  @Test
  void aDrawingThatCanNotBeMadeSaysSoOpensItsTableAndLeavesTheOthers() {
    ChromeDriver window = window(WIDE, false);
    openPage(window, "models/1");
    String tell = "document.dispatchEvent(new CustomEvent('chartdata', {detail: %s}));";
    window.executeScript(tell.formatted("{model: {releases: null}}"));
    WebElement place = window.findElement(By.cssSelector("[data-chart=model]"));
    assertThat(place.getText()).contains("This drawing could not be made");
    assertThat(place.findElements(By.tagName("svg"))).isEmpty();
    assertThat(place.findElements(By.xpath("..//details[@open]"))).hasSize(1);
    assertThat(window.findElements(By.cssSelector("[data-chart=ladders] > svg"))).hasSize(1);
    window.executeScript(
        tell.formatted("JSON.parse(document.getElementById('chart-data').textContent)"));
    assertThat(place.getText()).doesNotContain("This drawing could not be made");
    assertThat(place.findElements(By.tagName("svg"))).hasSize(1);
  }
}
