package milewarden.browser;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.support.ui.WebDriverWait;

/**
 * A reader without a pointer: Tab, Enter, Space, arrows and letters. Wherever the focus stops, it
 * must be seen there, within the window (WCAG 2.2, 2.4.7 and 2.4.11).
 */
public final class Keyboard {
  // No page has so many stops; a trap would have more.
  private static final int MOST_STOPS = 400;

  /**
   * The element in focus: its words, and what is wrong with how it is shown. An outline of 2 px is
   * ours; marks within a drawing change their stroke.
   */
  private static final String FOCUS =
      """
      const e = document.activeElement;
      if (!e || e === document.body) return {words: '', field: '', link: '', wrong: '', at: ''};
      const plain = (s) => (s ?? '').replace(/\\s+/g, ' ').trim();
      const label = [...(e.labels ?? [])].map((l) => l.textContent).join(' ');
      const words = plain(e.getAttribute('aria-label') || label || e.textContent || e.value);
      const box = e.getBoundingClientRect();
      const styles = (x) => getComputedStyle(x);
      const outlined = (s) => s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2
        && !/, 0\\)$|transparent/.test(s.outlineColor);
      const accent = document.createElement('i');
      accent.style.color = 'var(--accent)';
      document.body.append(accent);
      const colour = styles(accent).color;
      accent.remove();
      const stroked = e.ownerSVGElement
        && [e, ...e.querySelectorAll('*')].some((x) => styles(x).stroke === colour
          && parseFloat(styles(x).strokeWidth) >= 2);
      let wrong = '';
      if (!outlined(styles(e)) && !stroked) wrong = 'shows no focus';
      else if (box.bottom <= 0 || box.top >= innerHeight || box.right <= 0 || box.left >= innerWidth)
        wrong = 'is out of the window';
      const link = e.getAttribute('href') ?? '';
      return {words, field: e.name ?? '', link, wrong, at: e.outerHTML.slice(0, 160)}""";

  private final ChromeDriver window;

  public Keyboard(ChromeDriver window) {
    this.window = window;
  }

  /** Goes by Tab to the next element whose label or words contain these, and checks each stop. */
  public Keyboard to(String words) {
    return to("words", words);
  }

  /** The same to the next field whose name contains this. */
  public Keyboard toField(String name) {
    return to("field", name);
  }

  /** The same to the next link whose address contains this. */
  public Keyboard toLink(String address) {
    return to("link", address);
  }

  private Keyboard to(String what, String wanted) {
    List<String> passed = new ArrayList<>();
    for (int i = 0; i < MOST_STOPS; i++) {
      press(Keys.TAB);
      Map<?, ?> focus = focus();
      if (!focus.get("wrong").equals(""))
        throw new AssertionError(focus.get("wrong") + ": " + focus.get("at"));
      String here = (String) focus.get("words");
      if (((String) focus.get(what)).contains(wanted)) return this;
      passed.add(here.length() > 40 ? here.substring(0, 40) : here);
    }
    throw new AssertionError("Tab never comes to \"" + wanted + "\" but to " + passed);
  }

  /** Past what stands on every page, by the link that is there for it. */
  public Keyboard toContent() {
    return to("To the content").enter();
  }

  public Keyboard enter() {
    return press(Keys.ENTER);
  }

  public Keyboard space() {
    return press(Keys.SPACE);
  }

  /** Arrow down, so many times. */
  public Keyboard down(int times) {
    for (int i = 0; i < times; i++) press(Keys.ARROW_DOWN);
    return this;
  }

  /** Arrow right until the element in focus says this. */
  public Keyboard rightTo(String words) {
    for (int i = 0; i < MOST_STOPS; i++) {
      press(Keys.ARROW_RIGHT);
      Map<?, ?> focus = focus();
      if (!focus.get("wrong").equals(""))
        throw new AssertionError(focus.get("wrong") + ": " + focus.get("at"));
      if (((String) focus.get("words")).contains(words)) return this;
    }
    throw new AssertionError("no arrow leads to \"" + words + "\"");
  }

  public Keyboard type(String text) {
    return press(text);
  }

  /** Types in the place of what stands in the field. */
  public Keyboard typeAnew(String text) {
    new Actions(window).keyDown(Keys.CONTROL).sendKeys("a").keyUp(Keys.CONTROL).perform();
    return press(text);
  }

  /** Gives a file to the field in focus; the window in which one is chosen is not the page's. */
  public Keyboard give(String files) {
    active().sendKeys(files);
    return this;
  }

  /** What the element in focus says of itself. */
  public String here() {
    return (String) focus().get("words");
  }

  public WebElement active() {
    return window.switchTo().activeElement();
  }

  /** Waits until the page says this, after what was pressed. */
  public Keyboard until(String words) {
    new WebDriverWait(window, BrowserTests.PATIENCE)
        .ignoring(org.openqa.selenium.WebDriverException.class)
        .withMessage(() -> "\"" + words + "\" on " + window.getCurrentUrl() + ": " + said())
        .until(w -> said().contains(words));
    return this;
  }

  /** Waits until the address contains this. */
  public Keyboard untilAt(String part) {
    new WebDriverWait(window, BrowserTests.PATIENCE)
        .withMessage(() -> part + " in " + window.getCurrentUrl())
        .until(w -> w.getCurrentUrl().contains(part));
    BrowserTests.drawn(window);
    return this;
  }

  private String said() {
    return (String)
        window.executeScript(
            "return document.querySelector('main').innerText.replace(/\\s+/g, ' ')");
  }

  private Map<?, ?> focus() {
    return (Map<?, ?>) window.executeScript(FOCUS);
  }

  private Keyboard press(CharSequence keys) {
    new Actions(window).sendKeys(keys).perform();
    return this;
  }
}
