package milewarden.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import milewarden.web.Renderer;
import milewarden.web.WebServer;
import milewarden.web.WebSettings;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;

/** The security policy lets our own pages work, in a real browser. */
final class GuardedPagesIT extends BrowserTests {
  private WebServer server;

  @BeforeEach
  void start() {
    Renderer renderer = new Renderer();
    server = WebServer.start(new WebSettings(0), renderer, List.of());
  }

  @AfterEach
  void stop() {
    server.close();
  }

  @Test
  void aMissingPageSaysSoAndThePolicyRefusesNothingOfOurs() {
    ChromeDriver window = window(WIDE, false);
    window.get(server.address() + "no-such-page");
    assertThat(window.findElement(By.tagName("h1")).getText()).isEqualTo("There is no such page.");
    assertThat(complaints(window)).noneMatch(c -> c.contains("Content Security Policy"));
    screenshot(window, "missing-page-wide");
  }

  /** A page with a known barrier: the check itself must be able to fail. */
  @Test
  void aPictureWithoutWordsIsABarrier() {
    ChromeDriver window = window(WIDE, false);
    window.get(server.address() + "no-such-page");
    window.executeScript(
        "document.querySelector('main').append(Object.assign(new Image(), {src: '/assets/x'}))");
    assertThat(barriers(window)).anyMatch(b -> b.startsWith("image-alt"));
  }

  @Test
  void aMissingPageFitsATelephone() {
    ChromeDriver window = window(NARROW, true);
    window.get(server.address() + "no-such-page");
    assertThat(sidewaysScroll(window)).isZero();
    assertThat(barriers(window)).isEmpty();
    screenshot(window, "missing-page-narrow-dark");
  }
}
