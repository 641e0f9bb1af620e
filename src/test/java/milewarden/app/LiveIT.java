package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import milewarden.browser.BrowserTests;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;

/** Open pages tell what happens to a dropped file by the server's word alone. */
final class LiveIT extends BrowserTests {

  // Some seconds of work for a machine that measures a hundred a second.
  private static final int BATCH = 400;

  @TempDir Path folder;
  private Household house;
  private App app;
  private ChromeDriver window;

  @BeforeEach
  void openAHouse() throws Exception {
    house = new Household(folder);
    app = house.serve();
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
    patient(window).until(w -> releases() == 2 && marks() == 2);
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

  /** Its words come and go by themselves: a page keeps what its lead said meanwhile. */
  @Test
  void aBatchShowsItsProgressAndIsFoundAgainAfterItWasLeft() throws Exception {
    window.executeCdpCommand(
        "Page.addScriptToEvaluateOnNewDocument",
        Map.of(
            "source",
            "addEventListener('DOMContentLoaded', () => {"
                + "const keep = () => document.querySelectorAll('.progress').forEach(p =>"
                + "sessionStorage.setItem(location.pathname, p.innerText));"
                + "new MutationObserver(keep).observe(document.body,"
                + "{childList: true, subtree: true}); keep(); });"));
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < BATCH; i++) {
      Instant at = Household.day(i);
      rows.append(Household.row("batch" + i, at, "w" + i + ".gpx", "1.0", "0.40"));
      house.drop("batch/w" + i + ".gpx", Household.track(at, i));
    }
    house.dropSheet("batch/session.csv", rows.toString());
    open("intake");
    untilProgress("/intake");
    // It is left, and goes on; another page tells of it, too, and the first is found again.
    open("");
    untilProgress("/");
    open("intake");
    until("Every file arrived; none waits.");
    assertSamePage();
    assertThat(window.findElements(By.tagName("progress"))).isEmpty();
    open("");
    until("K1");
  }

  /** Waits until the page at this address has told how many of how many files are done. */
  private void untilProgress(String path) {
    patient(window)
        .withMessage(() -> "progress on " + path + ": " + shown())
        .until(
            w ->
                String.valueOf(
                        window.executeScript("return sessionStorage.getItem(arguments[0])", path))
                    .matches("Measuring: \\d+ of \\d+.files done\\."));
    assertThat(barriers(window)).isEmpty();
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
    // The file names its model, which the sheet doesn't.
    house.drop(session + "/walk.gpx", Household.trackOf("K1", at, day));
  }

  private void until(String words) {
    patient(window)
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
