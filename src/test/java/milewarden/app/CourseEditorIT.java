package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import milewarden.browser.BrowserTests;
import milewarden.course.CourseRead;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Position;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.support.ui.ExpectedConditions;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Measuring and drawing a course in a real browser: the folder's file is what counts. */
final class CourseEditorIT extends BrowserTests {

  @TempDir Path folder;
  private Path file;
  private App app;
  private ChromeDriver window;
  private WebDriverWait wait;

  @BeforeEach
  void serveOneCourse() throws Exception {
    Household house = new Household(folder);
    file = house.data.resolve("courses/pier.geojson");
    app = house.serve();
    window = window(WIDE, false);
    wait = patient(window);
    wait.until(
        w -> {
          w.get(address("courses"));
          return !w.findElements(By.cssSelector("a[href='/courses/pier']")).isEmpty();
        });
  }

  @AfterEach
  void stop() {
    app.close();
  }

  private String address(String page) {
    return "http://127.0.0.1:" + app.port() + "/" + page;
  }

  private ReferenceCourse inFolder() throws Exception {
    return CourseFile.read(Files.readAllBytes(file))
        .fold(
            CourseRead.Usable::course,
            bad -> {
              throw new AssertionError(bad.toString());
            });
  }

  private void press(String act) {
    window.findElement(By.cssSelector("button[name=act][value=" + act + "]:not(.first)")).click();
  }

  private void type(String name, int row, String text) {
    WebElement field = window.findElements(By.name(name)).get(row);
    field.clear();
    field.sendKeys(text);
  }

  @Test
  void aFieldSheetIsWorkedOutAndBecomesTheVersionInTheFolder() throws Exception {
    String before = Files.readString(file);
    window.get(address("courses/pier/measure?method=wheel"));
    type("calibration_m", 0, "500");
    for (int i = 0; i < 2; i++) {
      type("before.start", i, "0");
      type("before.end", i, "5000");
      type("pass.start", i, "0");
      type("pass.end", i, "40O5");
    }
    press("work");
    wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector(".note.broken")));
    assertThat(window.findElement(By.cssSelector(".note.broken")).getText())
        .contains("Pass 1: this is no number (end 40O5)");
    assertThat(barriers(window)).isEmpty();

    for (int i = 0; i < 2; i++) type("pass.end", i, "4005");
    press("work");
    wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector("table.budget")));
    assertThat(window.findElement(By.cssSelector(".figure")).getText()).startsWith("400.5");
    assertThat(window.findElements(By.cssSelector("table.budget svg rect"))).hasSizeGreaterThan(6);
    assertThat(Files.readString(file)).as("a trial writes nothing").isEqualTo(before);
    assertThat(barriers(window)).isEmpty();
    assertThat(sidewaysScroll(window)).isZero();
    screenshot(window, "course-measure-wide");

    type("author", 0, "A. Walker");
    press("keep");
    wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector(".note.broken")));
    assertThat(window.findElement(By.cssSelector(".note.broken")).getText()).contains("Say why");
    type("reason", 0, "wheeled by two");
    press("keep");
    wait.until(ExpectedConditions.urlContains("kept"));
    assertThat(inFolder().measuredLengthM()).isEqualTo(400.5);
    assertThat(inFolder().change().orElseThrow().author()).isEqualTo("A. Walker");
    wait.until(
        w -> {
          w.get(address("courses/pier"));
          return w.findElements(By.cssSelector("table tr")).stream()
              .anyMatch(r -> r.getText().contains("wheeled by two"));
        });
    assertThat(window.findElement(By.tagName("body")).getText()).contains("replaced", "in force");
    assertThat(complaints(window)).isEmpty();
    screenshot(window, "course-versions-wide");
  }

  @Test
  void aVertexMovesByKeyboardAndByPointerAndTheServerChecksTheLine() throws Exception {
    LocalPlane plane = LocalPlane.at(inFolder().line().middle());
    PlanePoint start = at(plane, 0);
    int vertices = inFolder().line().positions().size();
    window.get(address("courses/pier/line"));
    wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector("[data-vertex]")));
    WebElement first = window.findElement(By.cssSelector("[data-vertex='0']"));
    window.executeScript("arguments[0].focus()", first);
    new Actions(window).sendKeys(Keys.ARROW_UP).perform();
    new Actions(window).keyDown(Keys.SHIFT).sendKeys(Keys.ARROW_UP).keyUp(Keys.SHIFT).perform();
    assertThat(window.switchTo().activeElement().getDomAttribute("data-vertex"))
        .as("the moved vertex keeps the focus")
        .isEqualTo("0");
    assertThat(window.findElement(By.id("line-length")).getText()).startsWith("Drawn ");
    assertThat(barriers(window)).isEmpty();
    press("try");
    wait.until(ExpectedConditions.presenceOfElementLocated(By.name("reason")));
    // No run uses it yet: tried over all history, nothing moves.
    assertThat(window.findElement(By.tagName("body")).getText())
        .contains("This version would change nothing.", "Nothing was written");
    type("reason", 0, "the start lies further north");
    press("keep");
    wait.until(ExpectedConditions.urlContains("kept"));
    PlanePoint moved = at(plane, 0);
    assertThat(moved.yM() - start.yM())
        .as("1 m and 0.1 m to the north; the plan shows centimetres")
        .isCloseTo(1.1, within(0.011));
    assertThat(moved.xM()).isCloseTo(start.xM(), within(0.011));
    assertThat(inFolder().line().positions()).hasSize(vertices);

    // By the pointer, far off: the server refuses what disagrees with the wheel.
    wait.until(
        w -> {
          w.get(address("courses/pier"));
          return w.findElement(By.tagName("body")).getText().contains("further north");
        });
    String kept = Files.readString(file);
    window.get(address("courses/pier/line"));
    WebElement handle =
        wait.until(
            ExpectedConditions.presenceOfElementLocated(By.cssSelector("[data-vertex='0']")));
    new Actions(window).dragAndDropBy(handle, 0, -120).perform();
    assertThat(window.findElement(By.id("line-length")).getText()).contains("refused");
    press("try");
    wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector(".note.broken")));
    assertThat(window.findElements(By.name("reason"))).isEmpty();
    // What was drawn is still drawn, and still too far from the wheel.
    assertThat(window.findElement(By.id("line-length")).getText()).contains("refused");
    assertThat(Files.readString(file)).isEqualTo(kept);
    screenshot(window, "course-line-wide");
    assertThat(complaints(window)).isEmpty();
  }

  private PlanePoint at(LocalPlane plane, int vertex) throws Exception {
    Position p = inFolder().line().positions().get(vertex);
    return plane.project(p.latitudeDeg(), p.longitudeDeg());
  }

  @Test
  void bothPagesFitATelephoneInTheDark() {
    ChromeDriver narrow = window(NARROW, true);
    for (String page : new String[] {"measure", "line", "measure?method=certificate"}) {
      narrow.get(address("courses/pier/" + page));
      assertThat(sidewaysScroll(narrow)).as(page).isZero();
      assertThat(barriers(narrow)).as(page).isEmpty();
    }
    narrow.get(address("courses/-/sheet"));
    assertThat(barriers(narrow)).isEmpty();
    assertThat(sidewaysScroll(narrow)).isZero();
  }
}
