package milewarden.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.browser.BrowserTests;
import milewarden.format.GpxWriter;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;

/** Every chart of every page keeps what is promised of each: asked of the drawn pages. */
final class ChartsIT extends BrowserTests {
  private static final Pattern SESSION = Pattern.compile("href=\"/(sessions/[^\"]+)\"");
  private static final Pattern KINDS = Pattern.compile("const KINDS = \\{([^}]*)}");

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

  // Less can't be read at arm's length: common practice, no source.
  private static final String SMALL_WORDS =
      """
      return [...document.querySelectorAll('figure svg text')]
        .filter(t => t.textContent.trim() && t.getBoundingClientRect().width > 0)
        .map(t => [t.textContent, parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a])
        .filter(([, px]) => px < 10.5)
        .map(([words, px]) => words + ' in ' + px.toFixed(1) + ' px');
      """;

  /**
   * Saves each chart both ways and holds the files against what is on the page: the words around it
   * are in it, nothing points back to the page, nothing is cut off, and it is a picture on paper of
   * the scheme's colour.
   */
  private static final String WRONG_FILES =
      """
      const done = arguments[arguments.length - 1];
      const wrong = [];
      const names = new Set();
      const until = async (what) => { while (!what()) await new Promise(requestAnimationFrame); };
      const given = [];
      const make = URL.createObjectURL;
      URL.createObjectURL = blob => { given.push({ blob }); return make(blob); };
      HTMLAnchorElement.prototype.click = function () { given[given.length - 1].name = this.download; };
      const squeezed = text => text.replace(/\\s+/g, '');
      const saved = async (figure, how) => {
        const before = given.length;
        [...figure.querySelectorAll('.tools button')].find(b => b.textContent === how).click();
        await until(() => given[before]?.name);
        return given[before];
      };
      const paper = () => {
        const c = document.createElement('canvas').getContext('2d');
        c.fillStyle = getComputedStyle(document.documentElement).getPropertyValue('--paper');
        c.fillRect(0, 0, 1, 1);
        return String(c.getImageData(0, 0, 1, 1).data);
      };
      const look = async (place) => {
        const figure = place.closest('figure');
        const say = what => wrong.push(place.dataset.chart + ': ' + what);
        const svg = await saved(figure, 'Save as SVG');
        if (names.has(svg.name)) say('a second file ' + svg.name);
        names.add(svg.name);
        const text = await svg.blob.text();
        const read = new DOMParser().parseFromString(text, 'image/svg+xml');
        if (read.querySelector('parsererror')) return say('no XML');
        if (/var\\(--|href=|tabindex|data-tip/.test(text)) say('something of the page is left in it');
        const words = squeezed([...read.querySelectorAll('text')].map(t => t.textContent).join(''));
        const around = [...figure.querySelectorAll('h2, h3, figcaption, .legend li')].map(e => {
          const copy = e.cloneNode(true);
          copy.querySelectorAll('.unprinted').forEach(u => u.remove());
          return copy.textContent;
        });
        for (const part of around)
          if (!words.includes(squeezed(part))) say('without: ' + part.trim());
        const sheet = document.body.appendChild(document.importNode(read.documentElement, true));
        const outer = sheet.getBoundingClientRect();
        for (const t of sheet.querySelectorAll('text')) {
          const b = t.getBoundingClientRect();
          if (b.width > 0 && (b.left < outer.left || b.right > outer.right + 0.5 || b.top < outer.top || b.bottom > outer.bottom + 0.5))
            say('cut off: ' + t.textContent);
        }
        sheet.remove();
        const png = await saved(figure, 'Save as PNG');
        if (png.name.replace(/png$/, 'svg') !== svg.name) say('names differ: ' + png.name);
        const picture = await createImageBitmap(png.blob);
        if (picture.width !== 2 * Math.round(outer.width)) say('PNG of ' + picture.width + ' px');
        const c = document.createElement('canvas').getContext('2d');
        c.canvas.width = picture.width;
        c.canvas.height = picture.height;
        c.drawImage(picture, 0, 0);
        if (String(c.getImageData(2, 2, 1, 1).data) !== paper()) say('PNG on another paper');
        const pixels = new Uint32Array(c.getImageData(0, 0, picture.width, picture.height).data.buffer);
        if (pixels.filter(p => p !== pixels[0]).length < pixels.length / 100) say('PNG is empty');
      };
      (async () => { for (const place of document.querySelectorAll('[data-chart]')) await look(place); })()
        .then(() => done(wrong), e => done([...wrong, String(e.stack)]));
      """;

  @TempDir private static Path folder;
  private static App app;
  private static App house;
  private static String session = "";
  private static String surveyed = "";

  @BeforeAll
  static void serveTheDemo() throws Exception {
    PlayedDemo demo = PlayedDemo.once();
    app = demo.serve(demo.publicly());
    Matcher link = SESSION.matcher(new Crawl(home(app)).ask("/models/1").body());
    assertThat(link.find()).as("the model's page links its sessions").isTrue();
    session = link.group(1);
    house = withAReferenceTrack();
  }

  @AfterAll
  static void stop() {
    app.close();
    house.close();
  }

  private static String home(App of) {
    return "http://127.0.0.1:" + of.port();
  }

  /** A walk with its device and, by a receiver without error, where the tester really was. */
  private static App withAReferenceTrack() throws Exception {
    Household household = new Household(folder);
    Walk walk = Walk.of(Household.PIER).withStart(Household.day(0));
    String truth =
        GpxWriter.write(TrackSimulator.simulate(walk, Receiver.PERFECT, Sky.CLEAR, 1).track());
    household.drop("all/walk.gpx", Household.track(Household.day(0), 1));
    household.dropSheet(
        "all/session.csv", Household.row("B0", Household.day(0), "walk.gpx", "1.0", "0.401"));
    household.drop("all/true.gpx.tags.yaml", "role: reference\nsession: B0\n".getBytes(UTF_8));
    household.drop("all/true.gpx", truth.getBytes(UTF_8));
    App served = household.serve();
    Crawl crawl = new Crawl(home(served));
    surveyed = home(served) + "/runs/1";
    Await.until(
        "the run stands beside its reference track",
        () -> crawl.ask("/runs/1").body(),
        () -> crawl.ask("/runs/1").body().contains("data-kind=\"epochs\""));
    return served;
  }

  private static void openPage(ChromeDriver window, String page) {
    open(window, home(app) + "/" + page);
  }

  /** Every page of the demo, the session's too, and a run that a reference track was carried by. */
  private static List<String> pages() {
    List<String> pages = new ArrayList<>();
    for (EveryPage.Page page : EveryPage.all())
      if (page.where() == EveryPage.Where.DEMO && !page.isError())
        pages.add(home(app) + "/" + page.address().replace("{session}", session));
    pages.add(surveyed);
    return pages;
  }

  @Test
  void everyChartOfEveryPageHasItsWordsItsNumbersItsTwinAndItsFiles() throws Exception {
    ChromeDriver window = window(WIDE, false);
    Set<String> drawn = new TreeSet<>();
    for (String page : pages()) {
      open(window, page);
      List<WebElement> places = window.findElements(By.cssSelector("[data-chart]"));
      if (places.isEmpty()) continue;
      places.forEach(p -> drawn.add(p.getDomAttribute("data-kind")));
      assertThat(texts(window.executeScript(LACKING))).as(page).isEmpty();
      for (int width : new int[] {WIDE, NARROW}) {
        show(window, width, width == NARROW);
        open(window, page);
        String where = page + " at " + width;
        assertThat(texts(window.executeScript(SMALL_WORDS))).as(where).isEmpty();
        window.manage().timeouts().scriptTimeout(PATIENCE);
        assertThat(texts(window.executeAsyncScript(WRONG_FILES))).as(where).isEmpty();
      }
      show(window, WIDE, false);
      assertThat(complaints(window)).as(page).isEmpty();
    }
    Matcher kinds = KINDS.matcher(new Crawl(home(app)).ask("/assets/charts.js").body());
    assertThat(kinds.find()).isTrue();
    assertThat(drawn).containsExactlyInAnyOrder(kinds.group(1).strip().split(",\\s*"));
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
