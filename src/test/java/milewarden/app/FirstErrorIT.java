package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import milewarden.browser.BrowserTests;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.support.ui.ExpectedConditions;
import org.openqa.selenium.support.ui.Select;
import org.openqa.selenium.support.ui.WebDriverWait;

/** A newcomer's first minutes: from an empty store to a first error, by the pages alone. */
final class FirstErrorIT extends BrowserTests {

  @TempDir Path folder;

  @Test
  void fromAnEmptyStoreToAFirstErrorByThePagesAlone() throws Exception {
    Household house = new Household(folder);
    Files.delete(house.data.resolve("courses/pier.geojson"));
    Instant start = Instant.parse("2026-11-01T09:00:00Z");
    Path line = Files.write(folder.resolve("line.gpx"), Household.trackOf("K1", start, 1));
    Path walk =
        Files.write(
            folder.resolve("walk.gpx"), Household.trackOf("K1", start.plusSeconds(3600), 2));
    try (App app = house.serve()) {
      String home = "http://127.0.0.1:" + app.port() + "/";
      ChromeDriver window = window(WIDE, false);
      WebDriverWait wait = patient(window);
      window.get(home);
      assertThat(text(window)).contains("Three steps lead to a first error");

      window.get(home + "courses");
      window.findElement(By.name("file")).sendKeys(line.toString());
      window.findElement(By.name("length")).sendKeys("400 m");
      window.findElement(By.name("name")).sendKeys("Pier");
      window.findElement(By.cssSelector("form[action='/courses'] button")).click();
      wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector(".note")));
      assertThat(text(window)).doesNotContain("No course was made");
      wait.until(
          w -> {
            w.get(home + "courses");
            return !w.findElements(By.linkText("Pier")).isEmpty();
          });

      window.get(home + "intake");
      window
          .findElement(By.cssSelector("form[action='/intake/files'] input[type=file]"))
          .sendKeys(walk.toString());
      window.findElement(By.cssSelector("form[action='/intake/files'] button")).click();
      WebElement form =
          wait.until(
              ExpectedConditions.presenceOfElementLocated(
                  By.cssSelector("form[action='/intake/tags']")));
      // The place was recognised and the file names its device: neither is asked for.
      assertThat(form.findElements(By.name("course"))).isEmpty();
      assertThat(form.findElements(By.name("unit"))).isEmpty();
      form.findElement(By.name("firmware")).sendKeys("1.0");
      choose(form, "carriage", "hand");
      choose(form, "gait", "walk");
      form.findElement(By.tagName("button")).click();

      wait.until(
          w -> {
            w.get(home);
            return text((ChromeDriver) w).contains("insufficient evidence");
          });
      assertThat(text(window)).contains("K1").contains("2 more sessions");
      assertThat(complaints(window)).isEmpty();
      screenshot(window, "first-error");
    }
  }

  private static void choose(WebElement form, String name, String value) {
    new Select(form.findElement(By.name(name))).selectByValue(value);
  }

  private static String text(ChromeDriver window) {
    return window.findElement(By.tagName("body")).getText();
  }
}
