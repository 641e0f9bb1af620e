package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.InstantSource;
import milewarden.browser.BrowserTests;
import milewarden.people.Role;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.people.Staff;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.ExpectedConditions;

/** Coming in and leaving by keyboard alone, in a real browser. */
final class LogInIT extends BrowserTests {
  private static final String KEEPERS = "meadow kettle ninety lantern";
  private static final String READERS = "orange window under the hill";

  @TempDir Path folder;
  private App app;

  @BeforeEach
  void serve() throws Exception {
    Household house = new Household(folder);
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      assertThat(Staff.add(database, "Ada", Role.KEEPER, KEEPERS)).isEmpty();
      assertThat(Staff.add(database, "Rea", Role.READER, READERS)).isEmpty();
    }
    app = house.serve();
  }

  @AfterEach
  void stop() {
    app.close();
  }

  private String address(String page) {
    return "http://127.0.0.1:" + app.port() + "/" + page;
  }

  private static void press(ChromeDriver window, CharSequence... keys) {
    window.switchTo().activeElement().sendKeys(keys);
  }

  private static void heading(ChromeDriver window, String words) {
    patient(window)
        .until(ExpectedConditions.textToBePresentInElementLocated(By.tagName("h1"), words));
  }

  private void logIn(ChromeDriver window, String page, String name, String passphrase) {
    window.get(address(page));
    heading(window, "Log in");
    press(window, name);
    press(window, Keys.TAB);
    press(window, passphrase);
    press(window, Keys.ENTER);
    patient(window).until(ExpectedConditions.urlToBe(address(page)));
  }

  @Test
  void aKeeperComesInByKeyboardMakesATokenAndLeaves() {
    ChromeDriver window = window(WIDE, false);
    window.get(address("settings/people"));
    heading(window, "Log in");
    press(window, "Ada");
    press(window, Keys.TAB);
    press(window, "not this one at all");
    press(window, Keys.ENTER);
    patient(window)
        .until(ExpectedConditions.presenceOfElementLocated(By.cssSelector("[role=alert]")));
    assertThat(barriers(window)).isEmpty();
    logIn(window, "settings/people", "Ada", KEEPERS);
    heading(window, "2 people can come in, 1 of them as keeper.");
    window.findElement(By.cssSelector("form[action='/settings/tokens'] [name=name]")).click();
    press(window, "nightly");
    press(window, Keys.ENTER);
    patient(window)
        .until(ExpectedConditions.presenceOfElementLocated(By.cssSelector("code.secret")));
    assertThat(window.findElement(By.cssSelector("code.secret")).getText()).startsWith("mwt_");
    window.findElement(By.cssSelector(".who button")).sendKeys(Keys.ENTER);
    heading(window, "Log in");
    window.get(address("settings/people"));
    heading(window, "Log in");
    assertThat(complaints(window)).noneMatch(c -> c.contains("Content Security Policy"));
  }

  @Test
  void aReaderIsOfferedNothingThatIsNotTheirs() {
    ChromeDriver window = window(WIDE, false);
    logIn(window, "intake", "Rea", READERS);
    assertThat(window.findElements(By.cssSelector("main form[method=post]")))
        .noneMatch(form -> form.isDisplayed());
    window.get(address("settings/people"));
    heading(window, "This is not yours to do.");
  }
}
