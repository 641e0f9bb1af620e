package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.people.Passphrase;
import milewarden.people.PersonName;
import milewarden.people.RandomSecret;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.store.ChangeRecord;
import milewarden.store.ChangeRecord.What;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.Id.RunId;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.people.ApiTokens;
import milewarden.store.people.People;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Runs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Whoever changes what counts or what is public stands on record, under the name they came by. */
@Timeout(300)
final class OnRecordTest {
  private static final String KEEPERS = "meadow kettle ninety lantern";
  private static final String TESTERS = "seven quiet wooden paddles";

  @TempDir Path folder;
  private Database database;
  private App app;

  private Browsing signedIn(String name, String passphrase) throws Exception {
    Browsing browser = new Browsing(app.port());
    assertThat(browser.login(name, passphrase).statusCode()).isEqualTo(303);
    return browser;
  }

  private void people() {
    database.change(
        tx -> {
          People.add(tx, PersonName.of("Ada"), Role.KEEPER, Passphrase.hash(KEEPERS));
          People.add(tx, PersonName.of("Tom"), Role.TESTER, Passphrase.hash(TESTERS));
        });
  }

  private List<ChangeRecord.Change> changes(What what) {
    return database.read(tx -> ChangeRecord.page(tx, 200, 0)).stream()
        .filter(c -> c.what() == what)
        .toList();
  }

  private ChangeRecord.Change last(What what) {
    return changes(what).get(0);
  }

  private FileId file(String path) {
    return database
        .read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 100))
        .stream()
        .filter(f -> f.path().endsWith(path))
        .findFirst()
        .orElseThrow()
        .id();
  }

  private RunId run(FileId file) {
    return database.read(tx -> Runs.findOfFile(tx, file)).orElseThrow().id();
  }

  private List<Boolean> lifted(RunId run) {
    List<Boolean> lifted = new ArrayList<>();
    for (Exclusions.Excluded each : database.read(tx -> Exclusions.of(tx, run)))
      lifted.add(each.liftedAt().isPresent());
    return lifted;
  }

  private static void isSeeOther(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isBetween(302, 303);
  }

  @Test
  void tagsExclusionsAndVerdictsAreUnderTheNameOfWhoChangedThem() throws Exception {
    Season season = new Season(folder);
    database = season.look();
    season.run(database);
    try (App started = new App(season.config, InstantSource.system()).start()) {
      app = started;
      people();
      aTag();
      anExclusion();
      verdicts();
      theRecordIsReadByKeepersAndPrograms();
    } finally {
      database.close();
    }
  }

  private void aTag() throws Exception {
    FileId file = file("w4.gpx");
    Browsing tom = signedIn("Tom", TESTERS);
    isSeeOther(tom.post("/runs/" + run(file).value() + "/tags", "gait", "run"));
    ChangeRecord.Change change = last(What.TAG);
    assertThat(change.actor().words()).isEqualTo("Tom");
    assertThat(change.subject()).contains("file " + file.value()).contains("w4.gpx");
    assertThat(change.words()).isEqualTo("gait: `run`, before: `walk`");
    // Said again it is no change.
    int before = changes(What.TAG).size();
    tom.post("/runs/" + run(file).value() + "/tags", "gait", "run");
    assertThat(changes(What.TAG)).hasSize(before);
    // A program's word stands under its token's name.
    String secret = RandomSecret.makeToken();
    database.change(
        tx ->
            ApiTokens.add(
                tx,
                PersonName.of("nightly"),
                secret,
                Role.TESTER,
                Set.of(Scope.TRACKS_WRITE),
                Optional.empty(),
                tx.now().plus(Duration.ofDays(1))));
    HttpResponse<String> sent =
        new Browsing(app.port())
            .send(
                "PATCH",
                "/api/v1/tracks/received/" + file.value() + "/tags",
                "{\"gait\":\"walk\"}",
                "Authorization",
                "Bearer " + secret,
                "Content-Type",
                "application/json");
    assertThat(sent.statusCode()).as(sent.body()).isEqualTo(200);
    assertThat(last(What.TAG).actor().words()).contains("nightly");
    assertThat(last(What.TAG).words()).isEqualTo("gait: `walk`, before: `run`");
  }

  private void anExclusion() throws Exception {
    FileId file = file("w5.gpx");
    RunId run = run(file);
    Browsing tom = signedIn("Tom", TESTERS);
    isSeeOther(tom.post("/runs/" + run.value() + "/tags", "excluded_reason", "interrupted"));
    Await.until("the run is left out", () -> lifted(run), () -> lifted(run).equals(List.of(false)));
    assertThat(last(What.TAG).actor().words()).isEqualTo("Tom");
    assertThat(last(What.TAG).subject()).contains("w5.gpx");
    assertThat(last(What.TAG).words()).isEqualTo("excluded_reason: `interrupted`, before: nothing");
    Browsing ada = signedIn("Ada", KEEPERS);
    isSeeOther(ada.post("/runs/" + run.value() + "/tags", "excluded_reason", ""));
    Await.until("the run counts again", () -> lifted(run), () -> lifted(run).equals(List.of(true)));
    assertThat(last(What.TAG).actor().words()).isEqualTo("Ada");
    assertThat(last(What.TAG).words())
        .isEqualTo("excluded_reason: edit taken back, before: `interrupted`");
  }

  private void verdicts() throws Exception {
    Season.atRest(database);
    // By command on this machine.
    assertThat(last(What.VERDICT).words()).startsWith("published on 1.0");
    int before = changes(What.VERDICT).size();
    Browsing tom = signedIn("Tom", TESTERS);
    assertThat(tom.post("/verdicts/1/1/withdraw", "by", "Ada", "words", "Mine.").statusCode())
        .isEqualTo(403);
    assertThat(changes(What.VERDICT)).hasSize(before);
    // What is typed as a signature is one thing, who came in another.
    Browsing ada = signedIn("Ada", KEEPERS);
    isSeeOther(ada.post("/verdicts/1/1/withdraw", "by", "Tom", "words", "Read wrongly."));
    assertThat(last(What.VERDICT).actor().words()).isEqualTo("Ada");
    assertThat(last(What.VERDICT).subject()).isEqualTo("K1, verdict 1");
    assertThat(last(What.VERDICT).words()).isEqualTo("withdrawn by Tom: Read wrongly.");
    isSeeOther(
        ada.post(
            "/verdicts",
            "model",
            "1",
            "firmware",
            "1.0",
            "words",
            "Reads well, looked at anew.",
            "by",
            "Ada"));
    assertThat(last(What.VERDICT).actor().words()).isEqualTo("Ada");
    assertThat(last(What.VERDICT).subject()).isEqualTo("K1, verdict 2");
    assertThat(last(What.VERDICT).words())
        .isEqualTo("published on 1.0 by Ada: Reads well, looked at anew.");
    assertThat(changes(What.VERDICT)).hasSize(before + 2);
  }

  private void theRecordIsReadByKeepersAndPrograms() throws Exception {
    Browsing ada = signedIn("Ada", KEEPERS);
    assertThat(ada.get("/settings/changes", "Accept", "text/html").body())
        .contains("Read wrongly.", "w5.gpx", "nightly");
    JsonNode first =
        new JsonMapper().readTree(ada.get("/api/v1/changes").body()).get("items").get(0);
    assertThat(first.get("who").asText()).isEqualTo("Ada");
    assertThat(first.get("subject").asText()).isEqualTo("K1, verdict 2");
  }
}
