package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Map;
import java.util.Optional;
import milewarden.browser.BrowserTests;
import milewarden.cli.Places;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Open pages tell what happens to a dropped file by the server's word alone. */
final class LiveIT extends BrowserTests {
  private static final Duration PATIENCE = Duration.ofSeconds(30);

  @TempDir Path folder;
  private Household house;
  private App app;
  private ChromeDriver window;

  @BeforeEach
  void openAHouse() throws Exception {
    house = new Household(folder);
    Config config =
        ConfigReader.read(
                Places.of(house.data).withConfig(house.configFile), name -> Optional.empty())
            .fold(
                ConfigRead.Usable::config,
                r -> {
                  throw new AssertionError(r.why());
                });
    app = new App(config, InstantSource.system()).start();
    window = window(WIDE, false);
    // Without its clock a page can't ask by itself: what renews it is the stream.
    window.executeCdpCommand(
        "Page.addScriptToEvaluateOnNewDocument", Map.of("source", "window.setInterval = () => 0;"));
  }

  @AfterEach
  void close() {
    app.close();
  }

  @Test
  void aDroppedFileAppearsOnTheOverviewAndOnItsModelWithoutReload() throws Exception {
    open("");
    drop("first", 1, "1.0");
    until("K1");
    assertSamePage();

    open(
        window
            .findElement(By.linkText("K1"))
            .getAttribute("href")
            .replaceFirst("^.*?//[^/]*/", ""));
    assertThat(marks()).isEqualTo(1);
    drop("second", 2, "1.1");
    new WebDriverWait(window, PATIENCE).until(w -> releases() == 2 && marks() == 2);
    assertSamePage();
    assertThat(complaints(window)).isEmpty();
  }

  @Test
  void aDroppedFileAppearsOnIntakeAlsoAfterGoingBackToIt() throws Exception {
    open("intake");
    drop("first", 1, "1.0");
    until("first/walk.gpx");
    assertSamePage();
    open("due");
    window.navigate().back();
    window.executeScript("window.still = true");
    drop("second", 2, "1.0");
    until("second/walk.gpx");
    assertSamePage();
  }

  private void open(String page) {
    window.get("http://127.0.0.1:" + app.port() + "/" + page);
    window.executeScript("window.still = true");
  }

  /** A walk with its line of the field sheet, so that nothing is asked. */
  private void drop(String session, int day, String firmware) throws Exception {
    Instant at = Household.day(day);
    house.dropSheet(
        session + "/session.csv", Household.row(session, at, "walk.gpx", firmware, "0.40"));
    String track = new String(Household.track(at, day), StandardCharsets.UTF_8);
    // The file names its model, which the sheet doesn't.
    house.drop(
        session + "/walk.gpx",
        track
            .replaceFirst("creator=\"[^\"]*\"", "creator=\"K1\"")
            .getBytes(StandardCharsets.UTF_8));
  }

  private void until(String words) {
    new WebDriverWait(window, PATIENCE)
        .withMessage(() -> words + " on the page: " + shown())
        .until(w -> shown().contains(words));
  }

  private String shown() {
    return window.findElement(By.tagName("main")).getText();
  }

  private int releases() {
    return window.findElements(By.cssSelector("#model-releases tbody tr")).size();
  }

  private int marks() {
    return ((Number)
            window.executeScript(
                "return JSON.parse(document.getElementById('chart-data').textContent)"
                    + ".model.sessions.length"))
        .intValue();
  }

  private void assertSamePage() {
    assertThat(window.executeScript("return window.still === true")).isEqualTo(true);
  }
}
