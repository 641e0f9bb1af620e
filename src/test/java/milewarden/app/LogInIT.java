package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import milewarden.browser.BrowserTests;
import milewarden.cli.Places;
import milewarden.people.Role;
import milewarden.store.Database;
import milewarden.store.people.Staff;
import milewarden.store.StoreSettings;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.ExpectedConditions;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Coming in and leaving by keyboard alone, in a real browser. */
final class LogInIT extends BrowserTests {
  private static final Duration PATIENCE = Duration.ofSeconds(30);
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
    Config config =
        ConfigReader.read(
                Places.of(house.data).withConfig(house.configFile), name -> Optional.empty())
            .fold(
                ConfigRead.Usable::config,
                r -> {
                  throw new AssertionError(r.why());
                });
    app = new App(config, InstantSource.system()).start();
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
    new WebDriverWait(window, PATIENCE)
        .until(ExpectedConditions.textToBePresentInElementLocated(By.tagName("h1"), words));
  }

  private void logIn(ChromeDriver window, String page, String name, String passphrase) {
    window.get(address(page));
    heading(window, "Log in");
    press(window, name);
    press(window, Keys.TAB);
    press(window, passphrase);
    press(window, Keys.ENTER);
    new WebDriverWait(window, PATIENCE).until(ExpectedConditions.urlToBe(address(page)));
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
    new WebDriverWait(window, PATIENCE)
        .until(ExpectedConditions.presenceOfElementLocated(By.cssSelector("[role=alert]")));
    assertThat(barriers(window)).isEmpty();
    logIn(window, "settings/people", "Ada", KEEPERS);
    heading(window, "2 people can come in, 1 of them as keeper.");
    window.findElement(By.cssSelector("form[action='/settings/tokens'] [name=name]")).click();
    press(window, "nightly");
    press(window, Keys.ENTER);
    new WebDriverWait(window, PATIENCE)
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

  @Test
  void thePagesOfTheDoorFitEveryWindowAndKeepNobodyOut() {
    for (int width : new int[] {WIDE, NARROW})
      for (boolean dark : new boolean[] {false, true}) {
        ChromeDriver window = window(width, dark);
        window.get(address("login"));
        look(window, "login-" + width + (dark ? "-dark" : ""));
        logIn(window, "account", "Ada", KEEPERS);
        for (String page : List.of("account", "settings/people", "settings/changes", "settings")) {
          window.get(address(page));
          look(window, page.replace('/', '-') + "-" + width + (dark ? "-dark" : ""));
        }
      }
  }

  private static void look(ChromeDriver window, String name) {
    window.executeScript("document.querySelectorAll('details').forEach(d => d.open = true)");
    screenshot(window, "door-" + name);
    assertThat(sidewaysScroll(window)).as(name).isZero();
    assertThat(barriers(window)).as(name).isEmpty();
  }
}
