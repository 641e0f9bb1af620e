package milewarden.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Consumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.browser.BrowserTests;
import milewarden.browser.Keyboard;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;

/** What each page is for, done without a pointer, with the focus in sight at every stop. */
final class KeyboardIT extends BrowserTests {
  private static final Pattern FIX =
      Pattern.compile(
          "<trkpt lat=\"(?<lat>[^\"]+)\" lon=\"(?<lon>[^\"]+)\">.*?<time>(?<time>[^<]+)</time>",
          Pattern.DOTALL);
  private static final String PASSPHRASE = "meadow kettle ninety lantern";

  @TempDir private static Path folder;
  private static App app;

  /** A page's main work; {@code done} is said by the page at its end. */
  private record Work(String page, String what, String done, Consumer<Keyboard> work) {
    @Override
    public String toString() {
      return what + " on /" + page;
    }
  }

  @BeforeAll
  static void serveACopyOfTheDemo() throws Exception {
    app = PlayedDemo.once().serveACopy(folder);
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  static Stream<Work> works() {
    return Stream.of(
        new Work(
            "",
            "find a model and open it",
            "Quorvane Lir",
            k ->
                k.to("Order")
                    .down(1)
                    .to("Name")
                    .type("quor")
                    .to("with something due")
                    .space()
                    .to("Show")
                    .enter()
                    .untilAt("show=due")
                    .toContent()
                    .to("Quorvane Lir")
                    .enter()
                    .untilAt("/models/")),
        new Work(
            "models/1",
            "read the chart and open a mark's session",
            "side by side",
            k -> k.to(" %").rightTo(" %").enter().untilAt("/sessions/")),
        new Work(
            "models/1/compare?candidate=2.0.0&baseline=1.5.0",
            "read the chart, then its table",
            "",
            k -> {
              k.to("%");
              String first = k.here();
              assertThat(k.rightTo("%").here()).as("another mark").isNotEqualTo(first);
              k.to("table").enter();
              assertThat(k.active().getText()).isNotBlank();
              assertThat(k.active().findElement(By.xpath("..")).getDomAttribute("open"))
                  .isNotNull();
            }),
        new Work(
            "{session}",
            "open one of the runs",
            "What it is said to be",
            k -> k.to("Closer").enter().to("Whole course").enter().toLink("/runs/").enter()),
        new Work(
            "runs/7",
            "look along the course and edit a tag",
            "your edit",
            k -> k.to("%").to("Closer").enter().toField("notes").typeAnew("by hand").enter()),
        new Work(
            "courses/ondry-loop",
            "see the plan and its marks",
            "",
            k -> k.to(" m").to("Closer").enter().to("The marks as a table").enter()),
        new Work(
            "courses/ondry-loop/measure?method=wheel",
            "work out a length",
            "400.5",
            k -> {
              k.toField("calibration_m").typeAnew("500");
              for (int i = 0; i < 2; i++)
                k.toField("before.start").type("0").toField("before.end").type("5000");
              for (int i = 0; i < 2; i++)
                k.toField("pass.start").type("0").toField("pass.end").type("4005");
              k.enter();
            }),
        new Work(
            "head-to-head",
            "choose what is set side by side",
            "",
            k -> k.toField("models").down(1).to("Hold these").enter().untilAt("models=")),
        new Work(
            "models/1/plan",
            "plan a campaign",
            "2.2.0",
            k ->
                k.to("Firmware to be tested")
                    .typeAnew("2.2.0")
                    .to("Planned by")
                    .type("A. Walker")
                    .enter()),
        new Work(
            "due",
            "close an item with a word",
            "A. Walker",
            k ->
                k.to("Item")
                    .down(2)
                    .to("Why")
                    .type("was seen to")
                    .to("Who")
                    .type("A. Walker")
                    .enter()),
        new Work(
            "alerts",
            "acknowledge",
            "A. Walker",
            k ->
                k.to("Acknowledge or put off")
                    .enter()
                    .untilAt("/items/")
                    .to("Who")
                    .type("A. Walker")
                    .enter()
                    .untilAt("/alerts")),
        new Work(
            "alerts",
            "put off",
            "put off Thessamor",
            k ->
                k.to("Acknowledge or put off")
                    .enter()
                    .untilAt("/items/")
                    .to("Acknowledge")
                    .to("Until")
                    .to("Who")
                    .type("B. Runner")
                    .to("Put off")
                    .enter()
                    .untilAt("/alerts")),
        new Work("alerts", "send again", "", k -> k.to("Read it").enter().to("Send again").enter()),
        new Work(
            "verdicts/draft?model=1&firmware=2.1.0",
            "publish a verdict, then withdraw it",
            "withdrawn",
            k ->
                k.to("What readers should know")
                    .type("It reads well.")
                    .to("Why it replaces")
                    .down(5)
                    .to("Published by")
                    .type("A. Walker")
                    .enter()
                    .untilAt("/verdicts/1/4")
                    .to("Why")
                    .type("too early")
                    .to("Who")
                    .type("A. Walker")
                    .enter()),
        new Work(
            "settings/dry-run",
            "try other rules",
            "Nothing was written",
            k ->
                k.toField(".mean")
                    .typeAnew("0.4")
                    .enter()
                    .untilAt("/dry-run/")
                    .until("This policy")),
        new Work(
            "settings",
            "choose units",
            "The pages are written so now",
            k -> k.to("Units").down(1).to("Write").enter()),
        new Work(
            "settings/mail",
            "add somebody and send a test message",
            "test message",
            k ->
                k.to("Address")
                    .type("walker@tests.example")
                    .enter()
                    .until("walker@tests.example")
                    .toContent()
                    .to("Send a test message to walker@tests.example")
                    .enter()));
  }

  @ParameterizedTest
  @MethodSource("works")
  void aPagesWorkIsDoneByKeyboardAlone(Work work) {
    ChromeDriver window = window(WIDE, false);
    open(window, address(work.page().replace("{session}", session(window))));
    Keyboard keyboard = new Keyboard(window);
    keyboard.toContent();
    work.work().accept(keyboard);
    keyboard.until(work.done());
    drawn(window);
    assertThat(barriers(window)).as("barriers after " + work).isEmpty();
    assertThat(complaints(window)).as("complaints of " + work).isEmpty();
  }

  private static String session(ChromeDriver window) {
    window.get(address("models/1"));
    return window
        .findElement(By.cssSelector("a[href^='/sessions/']"))
        .getDomAttribute("href")
        .substring(1);
  }

  private static String address(String page) {
    return "http://127.0.0.1:" + app.port() + "/" + page;
  }

  @Test
  void filesAreBroughtAndTheirTagsCompletedForMany() throws Exception {
    Household house = new Household(Files.createDirectories(folder.resolve("house")));
    StringBuilder files = new StringBuilder();
    for (int i = 0; i < 2; i++) {
      Path file = folder.resolve("w" + i + ".gpx");
      Files.write(file, Household.trackOf("K1", Household.day(i), i));
      files.append(files.isEmpty() ? "" : "\n").append(file);
    }
    try (App own = house.serve()) {
      ChromeDriver window = window(WIDE, false);
      open(window, "http://127.0.0.1:" + own.port() + "/intake");
      Keyboard k = new Keyboard(window);
      k.toContent().to("Recordings and field sheets").give(files.toString()).to("Send").enter();
      k.untilAt("done=files").until("2 files:").toContent();
      assertThat(barriers(window)).isEmpty();
      // One form for both: the second file is left out and taken in again.
      k.toField("file").space().space().toField("firmware").type("1.0");
      k.toField("carriage").down(1).toField("gait").down(1).to("Keep and measure").enter();
      k.untilAt("done=tags").until("Every file arrived; none waits.");
      assertThat(window.findElements(By.cssSelector("#intake-latest tbody tr"))).hasSize(2);
      Files.writeString(folder.resolve("torn.gpx"), "<gpx><trk>");
      k.toContent().to("Recordings and field sheets").give(folder.resolve("torn.gpx").toString());
      k.to("Send").enter().untilAt("done=files").until("Refused, and kept");
      assertThat(complaints(window)).isEmpty();
    }
  }

  @Test
  void aQuestionAboutARecordingIsAnsweredByOneOfWhatIsOffered() throws Exception {
    Household house = new Household(Files.createDirectories(folder.resolve("asked")));
    house.configure("defaults: {gait: walk}");
    StringBuilder table = new StringBuilder("Time,Latitude,Longitude,Distance\n");
    Matcher fix = FIX.matcher(new String(Household.track(Household.day(0), 1), UTF_8));
    for (int i = 0; fix.find(); i++)
      table.append(
          "%s,%s,%s,%d\n".formatted(fix.group("time"), fix.group("lat"), fix.group("lon"), i));
    house.drop("K1/1.0/hand/walk.csv", table.toString().getBytes(UTF_8));
    try (App own = house.serve()) {
      ChromeDriver window = window(WIDE, false);
      open(window, "http://127.0.0.1:" + own.port() + "/intake");
      Keyboard k = new Keyboard(window);
      k.until("1 file:").until("column 4, “Distance”");
      assertThat(barriers(window)).isEmpty();
      k.toContent().toField("columns").down(1).to("Keep and measure").enter();
      k.untilAt("done=tags").until("Every file arrived; none waits.");
      assertThat(window.findElements(By.cssSelector("#intake-latest tbody tr"))).hasSize(1);
      assertThat(complaints(window)).isEmpty();
    }
  }

  @Test
  void theFirstPersonIsAddedAndComesIn() throws Exception {
    Household house = new Household(Files.createDirectories(folder.resolve("people")));
    try (App own = house.serve()) {
      ChromeDriver window = window(WIDE, false);
      open(window, "http://127.0.0.1:" + own.port() + "/settings/people");
      Keyboard k = new Keyboard(window);
      k.toContent().to("Name").type("Ada").to("Passphrase").type(PASSPHRASE).enter();
      k.until("Log in").type("Ada").to("Passphrase").type(PASSPHRASE).enter();
      k.until("One person can come in").toContent().to("Change Ada").enter().to("Role").to("Give");
      assertThat(barriers(window)).isEmpty();
    }
  }
}
