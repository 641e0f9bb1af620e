package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import milewarden.browser.BrowserTests;
import milewarden.browser.Keyboard;
import milewarden.store.Database;
import milewarden.store.file.SheetRows;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.Select;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Typing readings in at the mark, on a telephone whose connection comes and goes. */
final class ReadingsIT extends BrowserTests {
  private static final String SESSION = "Outing";

  @TempDir private Path folder;
  private Season season;
  private App app;
  private Database look;
  private ChromeDriver phone;
  private WebDriverWait wait;

  @BeforeEach
  void threeSessionsOfOneUnit() throws Exception {
    season = new Season(folder);
    app = season.house.serve();
    look = season.look();
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < 3; i++)
      rows.append(Household.row("B" + i, Household.day(i), "", "2.10", "0.40" + i));
    season.house.dropSheet("before/session.csv", rows.toString());
    Await.until("three runs", () -> runs(), () -> runs() == 3);
    Season.atRest(look);
    phone = window(NARROW, false);
    phone.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", NARROW, "height", 740, "deviceScaleFactor", 2, "mobile", true));
    wait = patient(phone);
    phone.get(sheet());
  }

  @AfterEach
  void stop() {
    look.close();
    app.close();
  }

  private int runs() {
    return look.read(Runs::count);
  }

  private String sheet() {
    return "http://127.0.0.1:" + app.port() + "/models/1/sheet?session=" + SESSION;
  }

  private void offline(boolean offline) {
    phone.executeCdpCommand("Network.enable", Map.of());
    phone.executeCdpCommand(
        "Network.emulateNetworkConditions",
        Map.of("offline", offline, "latency", 0, "downloadThroughput", -1, "uploadThroughput", -1));
  }

  private WebElement shown(int row) {
    return phone.findElement(By.name("row." + row + ".shown"));
  }

  private String status() {
    return phone.findElement(By.cssSelector("[data-status]")).getText();
  }

  private void until(String words) {
    wait.withMessage(() -> words + " in: " + status()).until(w -> status().contains(words));
  }

  private void pageIsKept() {
    wait.until(w -> "yes".equals(w.findElement(By.tagName("form")).getAttribute("data-ready")));
  }

  private Map<String, String> inStore() {
    Map<String, String> shown = new HashMap<>();
    for (SheetRows.SheetRow row : look.read(tx -> SheetRows.ofSession(tx, SESSION)))
      shown.put(
          row.words().key().pass() + " r" + row.revision(),
          row.words().extra().getOrDefault("as_typed", ""));
    return shown;
  }

  @Test
  void whatIsTypedWithoutAConnectionOutlivesAReloadAndCountsOnce() {
    pageIsKept();
    offline(true);
    shown(0).sendKeys("0,403");
    shown(1).sendKeys("0.399", Keys.TAB);
    until("No connection: 2 not sent");
    assertThat(inStore()).isEmpty();

    // The page itself opens again from what was kept of it.
    phone.navigate().refresh();
    until("2 not sent");
    assertThat(shown(0).getAttribute("value")).isEqualTo("0,403");
    assertThat(shown(1).getAttribute("value")).isEqualTo("0.399");
    screenshot(phone, "sheet-offline-narrow");

    offline(false);
    until("All of them are in the store.");
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0,403", "2 r1", "0.399"));
    Season.atRest(look);
    assertThat(runs()).isEqualTo(5);

    // Neither a reload nor a second press counts anything twice.
    phone.navigate().refresh();
    until("2 of 2 read");
    phone.findElement(By.cssSelector(".bar button")).click();
    shown(0).sendKeys(Keys.chord(Keys.CONTROL, "a"), "0,404", Keys.TAB);
    until("All of them are in the store.");
    Await.until("the revision", this::inStore, () -> inStore().containsKey("1 r2"));
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r2", "0,404", "2 r1", "0.399"));
    assertThat(runs()).isEqualTo(5);
  }

  @Test
  void aSheetIsTypedByKeyboardAloneWhileTheConnectionFails() {
    pageIsKept();
    offline(true);
    Keyboard keys = new Keyboard(phone);
    keys.toContent().toField("row.0.shown").type("0.403").toField("row.1.shown").type("0.399");
    keys.to("Send the readings").enter();
    until("No connection: 2 not sent");
    assertThat(inStore()).isEmpty();
    offline(false);
    until("All of them are in the store.");
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0.403", "2 r1", "0.399"));
    assertThat(complaints(phone).stream().filter(c -> !c.contains("ERR_INTERNET_DISCONNECTED")))
        .isEmpty();
  }

  /** Typed in the evening without a connection; in the morning the page is that of another day. */
  @Test
  void readingsOfAnEarlierSheetAreSentFromALaterOne() {
    pageIsKept();
    offline(true);
    shown(0).sendKeys("0.403", Keys.TAB);
    until("No connection: 1 not sent");
    phone.get("about:blank");
    offline(false);
    phone.get(sheet() + "%20of%20the%20next%20day");
    Await.until("the row of the evening", this::inStore, () -> inStore().size() == 1);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0.403"));
    assertThat(shown(0).getAttribute("value")).isEmpty();
    List<SheetRows.SheetRow> ofTheDay =
        look.read(tx -> SheetRows.ofSession(tx, SESSION + " of the next day"));
    assertThat(ofTheDay).isEmpty();
  }

  /** The answer is lost on its way: the sheet came in, the telephone does not know. */
  @Test
  void aSendingWhoseAnswerIsLostIsSentAgainAndCountsOnce() {
    phone.executeScript(
        "const real = window.fetch; let lost = 0;"
            + "window.fetch = async (...all) => { const answer = await real(...all);"
            + " if (all[1]?.method === 'POST' && lost++ < 2) throw new TypeError('lost');"
            + " return answer; };");
    shown(0).sendKeys("0.403", Keys.TAB);
    until("All of them are in the store.");
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0.403"));
    assertThat(runs()).isEqualTo(4);
  }

  @Test
  void theServerMayStartAnewWhileTheSheetIsOut() throws Exception {
    int port = app.port();
    app.close();
    shown(0).sendKeys("0.403", Keys.TAB);
    until("No connection: 1 not sent");
    Files.writeString(season.house.configFile, Household.QUICK.replace("port: 0", "port: " + port));
    app = season.house.serve();
    until("All of them are in the store.");
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0.403"));
  }

  @Test
  void aReadingThatIsNoneIsSaidBesideItAndSentWhenMended() {
    shown(0).sendKeys("4o3", Keys.TAB);
    until("1 to be mended");
    WebElement state = phone.findElement(By.id("state-0"));
    assertThat(state.getText()).contains("A number is expected");
    assertThat(barriers(phone)).isEmpty();
    shown(0).sendKeys(Keys.chord(Keys.CONTROL, "a"), "0.403", Keys.TAB);
    until("All of them are in the store.");
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0.403"));
  }

  /** WCAG 2.2, 2.5.5 (enhanced): 44 px for a finger; axe asks for 24. */
  @Test
  void itFitsATelephoneAndAThumbAndCanBeFilledInByKeyboardAlone() {
    for (String scheme : List.of("light", "dark")) {
      phone.executeCdpCommand(
          "Emulation.setEmulatedMedia",
          Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", scheme))));
      assertThat(sidewaysScroll(phone)).isZero();
      assertThat(barriers(phone)).isEmpty();
      screenshot(phone, "sheet-narrow-" + scheme);
    }
    for (WebElement field :
        phone.findElements(By.cssSelector(".typing input:not([type=hidden]), .typing button")))
      if (field.isDisplayed() && !"checkbox".equals(field.getAttribute("type")))
        assertThat(field.getSize().height)
            .as(field.getAttribute("name"))
            .isGreaterThanOrEqualTo(44);
    assertThat(phone.findElement(By.cssSelector(".cautions")).getText())
        .contains("Read no display while you move on a road");

    phone.executeScript("document.querySelector('#pass-1').scrollIntoView()");
    WebElement start = phone.findElement(By.name("pass.1.time"));
    start.sendKeys("0915AM");
    WebElement active = start;
    for (int i = 0; i < 20 && !"row.0.shown".equals(active.getAttribute("name")); i++) {
      active.sendKeys(Keys.TAB);
      active = phone.switchTo().activeElement();
    }
    active.sendKeys("0.403", Keys.TAB);
    active = phone.switchTo().activeElement();
    new Select(active).selectByValue("km");
    until("All of them are in the store.");
    Season.atRest(look);
    assertThat(inStore()).isEqualTo(Map.of("1 r1", "0.403"));
    assertThat(complaints(phone)).isEmpty();
  }
}
