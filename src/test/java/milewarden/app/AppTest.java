package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import jakarta.mail.internet.MimeMessage;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import milewarden.accuracy.Engine;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.DueItems;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.verdict.DueItem;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The whole program: files dropped into the inbox become runs, due items and messages. */
final class AppTest {
  @TempDir Path folder;
  private Household house;
  private Config config;

  @BeforeEach
  void furnish() throws Exception {
    house = new Household(folder);
    config = house.config();
  }

  private Database look() {
    return Database.open(StoreSettings.in(house.data), InstantSource.system());
  }

  private String baseline() {
    StringBuilder rows = new StringBuilder();
    List<String> shown = List.of("0.401", "0.400", "0.402", "0.401");
    for (int i = 0; i < shown.size(); i++)
      rows.append(Household.row("B" + i, Household.day(i), "", "1.0", shown.get(i)));
    return rows.toString();
  }

  private static void settled(Database database) {
    Await.until(
        "everything is measured",
        () -> database.read(ReceivedFiles::counts),
        () -> database.read(ReceivedFiles::counts).getOrDefault(State.RECEIVED, 0) == 0);
  }

  @Test
  void aTrackAndItsSheetBecomeARunADueItemAndAMessage() throws Exception {
    try (App app = new App(config, InstantSource.system()).start();
        Database database = look()) {
      house.dropSheet("before/session.csv", baseline());
      Await.until(
          "the first release is known",
          () -> database.read(ReceivedFiles::counts),
          () -> database.read(Runs::count) == 4);
      house.drop("new/walk.gpx", Household.track(Household.day(10), 5));
      house.dropSheet(
          "new/session.csv", Household.row("N1", Household.day(10), "walk.gpx", "2.0", "0.401"));
      Await.until(
          "a message tells of the new release",
          () -> database.read(DueItems::open) + " " + house.files("outbox"),
          () -> house.files("outbox").stream().anyMatch(f -> f.endsWith(".eml")));

      Runs.Run run =
          database.read(tx -> Runs.page(tx, 10, 0)).stream()
              .filter(r -> r.file().isPresent())
              .findFirst()
              .orElseThrow();
      assertThat(run.firmware()).isEqualTo("2.0");
      assertThat(run.sessionName()).isEqualTo("N1");
      Results.Summary pass =
          database.read(tx -> Results.ofRun(tx, run.id(), Engine.VERSION)).get(0);
      // (401 - 400) / 400, by hand.
      assertThat(pass.errors().shownAsReadPercent().orElseThrow()).isCloseTo(0.25, within(1e-9));

      List<DueItems.Due> due = database.read(DueItems::open);
      assertThat(due)
          .anySatisfy(
              d -> {
                assertThat(d.item().kind()).isEqualTo(DueItem.Kind.RETEST_DUE);
                assertThat(d.item().firmware()).isEqualTo("2.0");
              });
      List<MimeMessage> messages = house.messages();
      assertThat(messages).isNotEmpty();
      assertThat(messages.get(0).getSubject()).contains("K1");
      assertThat(house.files("inbox")).isEmpty();
      HttpResponse<String> health =
          HttpClient.newHttpClient()
              .send(
                  HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + app.port() + "/health"))
                      .build(),
                  HttpResponse.BodyHandlers.ofString());
      assertThat(health.statusCode()).isEqualTo(200);
    }
  }

  @Test
  void filesThatCameWhileTheServerWasDownAreTakenAtItsStart() throws Exception {
    house.drop("K1/1.0/hand/walk.gpx", Household.track(Household.day(0), 1));
    house.drop("bad.gpx", "half a fi".getBytes(StandardCharsets.UTF_8));
    try (App app = new App(config, InstantSource.system()).start();
        Database database = look()) {
      assertThat(app.port()).isPositive();
      Await.until(
          "both have left the inbox",
          () -> house.files("inbox"),
          () -> house.files("inbox").isEmpty());
      settled(database);
      assertThat(house.files("refused")).containsExactly("bad.gpx");
      assertThat(house.files("done")).containsExactly("K1/1.0/hand/walk.gpx");
    }
  }

  @Test
  void aSecondServerOnOneFolderIsRefusedWithASentence() {
    try (App app = new App(config, InstantSource.system()).start()) {
      assertThat(app.port()).isPositive();
      assertThatThrownBy(() -> new App(config, InstantSource.system()).start())
          .hasMessageContaining("in use by another running Milewarden");
    }
    // And free again after the stop.
    new App(config, InstantSource.system()).start().close();
  }

  @Test
  void theIntakeCommandTakesAFolderInOnceAndLeavesItAsItIs() throws Exception {
    Path given = folder.resolve("given");
    java.nio.file.Files.createDirectories(given.resolve("K1/1.0/hand"));
    java.nio.file.Files.write(
        given.resolve("K1/1.0/hand/walk.gpx"), Household.track(Household.day(0), 1));
    java.nio.file.Files.writeString(given.resolve("bad.gpx"), "no track");
    String[] command = {
      "intake",
      given.toString(),
      "--data",
      house.data.toString(),
      "--config",
      house.configFile.toString()
    };
    StringWriter first = new StringWriter();
    assertThat(run(first, command)).isEqualTo(Exit.FINDINGS);
    // No gait is said anywhere, so the good one waits for it.
    assertThat(first.toString()).contains("refused  bad.gpx", "waiting", "gait");
    StringWriter second = new StringWriter();
    run(second, command);
    assertThat(second.toString()).contains("2 duplicate");
    assertThat(given.resolve("K1/1.0/hand/walk.gpx")).exists();
    assertThat(
            run(
                new StringWriter(),
                "intake",
                folder.resolve("none").toString(),
                "--data",
                house.data.toString(),
                "--config",
                house.configFile.toString()))
        .isEqualTo(Exit.WRONG_USE);
  }

  private static int run(StringWriter out, String... command) {
    return Milewarden.run(
        Map.of("intake", () -> new IntakeCommand()),
        new PrintWriter(out),
        new PrintWriter(new StringWriter()),
        command);
  }

  @Test
  void aTrackSentToTheApiIsMeasuredAndItsBatchEnds() throws Exception {
    try (App app = new App(config, InstantSource.system()).start();
        Database database = look()) {
      String boundary = "0123456789";
      String body = "";
      for (String tag : List.of("unit=K1", "firmware=1.0", "carriage=hand", "gait=walk"))
        body +=
            "--%s\r\nContent-Disposition: form-data; name=\"%s\"\r\n\r\n%s\r\n"
                .formatted(boundary, tag.split("=")[0], tag.split("=")[1]);
      body +=
          "--%s\r\nContent-Disposition: form-data; name=\"file\"; filename=\"w.gpx\"\r\n\r\n%s\r\n--%s--\r\n"
              .formatted(
                  boundary,
                  new String(Household.track(Household.day(0), 1), StandardCharsets.UTF_8),
                  boundary);
      HttpResponse<String> answer =
          HttpClient.newHttpClient()
              .send(
                  HttpRequest.newBuilder(
                          URI.create("http://127.0.0.1:" + app.port() + "/api/v1/tracks"))
                      .header("Content-Type", "multipart/form-data; boundary=" + boundary)
                      .POST(HttpRequest.BodyPublishers.ofString(body))
                      .build(),
                  HttpResponse.BodyHandlers.ofString());
      assertThat(answer.statusCode()).as(answer.body()).isEqualTo(202);
      Await.until(
          "the run is there and its batch ended",
          () -> database.read(ReceivedFiles::counts),
          () ->
              database.read(Runs::count) == 1
                  && database
                      .read(milewarden.store.file.Batches::latest)
                      .get()
                      .closedAt()
                      .isPresent());
    }
  }
}
