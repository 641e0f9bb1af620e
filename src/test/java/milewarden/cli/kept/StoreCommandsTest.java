package milewarden.cli.kept;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneOffset;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.store.Database;
import milewarden.store.TestStores;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Settling;
import milewarden.store.run.Models;
import milewarden.units.UnitChoice;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** due, compare and verdict publish on a store that holds one judged model. */
final class StoreCommandsTest {
  private static final InstantSource CLOCK =
      InstantSource.fixed(Instant.parse("2026-11-20T18:00:00Z"));

  @TempDir Path folder;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  private Database open() {
    return TestStores.SQLITE.open(folder, CLOCK);
  }

  private int run(String... args) {
    Workshop workshop =
        places ->
            new Tools(
                open(),
                Policy.defaults(),
                ZoneOffset.UTC,
                Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC));
    return Milewarden.run(
        Map.of(
            "due",
            () -> new DueCommand(workshop),
            "compare",
            () -> new CompareCommand(workshop),
            "verdict",
            () -> new VerdictCommand(workshop)),
        new PrintWriter(out),
        new PrintWriter(err),
        args);
  }

  private void fill() {
    try (Database database = open()) {
      database.change(
          tx -> {
            Models.Unit unit = Models.unit(tx, "fell-2-a", "Fell 2");
            Judgements.put(tx, unit.model(), Judged.model());
            Settling.settle(tx, unit.model(), List.of(Judged.worse(), Judged.untested()), false);
          });
    }
  }

  private JsonNode json() throws IOException {
    return new JsonMapper().readTree(out.toString());
  }

  private static List<String> names(JsonNode node) {
    Iterator<Map.Entry<String, JsonNode>> fields = node.properties().iterator();
    List<String> names = new java.util.ArrayList<>();
    fields.forEachRemaining(f -> names.add(f.getKey()));
    return names;
  }

  @Test
  void nothingDueIsExitCode0() {
    assertThat(run("due")).isEqualTo(Exit.DONE);
    assertThat(out.toString()).contains("Nothing is due.");
  }

  @Test
  void somethingDueIsExitCode1WithItsReasonAndAdvice() {
    fill();
    assertThat(run("due")).isEqualTo(Exit.FINDINGS);
    assertThat(out.toString())
        .contains("Firmware 2.1.0 of Fell 2 is worse than firmware 2.0.0: a change of +1.3 points")
        .contains("  - Run 3 more sessions")
        .contains("since 20 Nov 2026");
  }

  // Field names of the project's own contract for due --json.
  @Test
  void dueAsJsonHasTheNamesOfTheContract() throws IOException {
    fill();
    assertThat(run("due", "--json")).isEqualTo(Exit.FINDINGS);
    JsonNode item = json().get("items").get(0);
    assertThat(names(item))
        .containsExactly(
            "id",
            "kind",
            "severity",
            "model",
            "firmware",
            "because",
            "advice",
            "evidence",
            "raisedAt");
    assertThat(item.get("kind").asText()).isEqualTo("verdict-update-due");
    assertThat(item.get("severity").asText()).isEqualTo("regression");
    assertThat(item.get("raisedAt").asText()).isEqualTo("2026-11-20T18:00:00Z");
  }

  @Test
  void aWorseReleaseIsExitCode1() {
    fill();
    assertThat(run("compare", "--model", "Fell 2", "--firmware", "2.1.0", "--against", "2.0.0"))
        .isEqualTo(Exit.FINDINGS);
    assertThat(out.toString()).contains("Fell 2 2.1.0 against 2.0.0: worse, because");
  }

  // Field names of the project's own contract for compare --json.
  @Test
  void compareAsJsonHasTheNamesOfTheContract() throws IOException {
    fill();
    run("compare", "--model", "fell 2", "--firmware", "2.1.0", "--against", "2.0.0", "--json");
    assertThat(names(json()))
        .containsExactly(
            "model",
            "candidate",
            "baseline",
            "source",
            "sessions",
            "look",
            "meanErrorPercent",
            "difference",
            "outcome",
            "because",
            "minimumDetectableChangePercent",
            "sessionsNeeded",
            "conditions",
            "smoothing",
            "strips");
    assertThat(json().get("outcome").asText()).isEqualTo("worse");
    assertThat(json().at("/sessions/candidate").asInt()).isEqualTo(6);
    assertThat(json().at("/meanErrorPercent/candidate/mean").asDouble()).isEqualTo(1.87);
    assertThat(json().at("/meanErrorPercent/candidate/nextRun/high").asDouble()).isEqualTo(3.0);
    assertThat(json().at("/look/nextAt").asInt()).isEqualTo(12);
    assertThat(json().get("difference").isNull()).isTrue();
    // Nothing in this store has a track: asked for, and none.
    assertThat(json().get("strips").size()).isZero();
  }

  @Test
  void whatIsNotComparedIsWrongUseAndSaysWhatIs() {
    fill();
    assertThat(run("compare", "--model", "Fell 2", "--firmware", "2.1.0", "--against", "1.9.0"))
        .isEqualTo(Exit.WRONG_USE);
    assertThat(err.toString()).contains("compared are 2.1.0 with 2.0.0");
    assertThat(run("compare", "--model", "Nobody", "--firmware", "1", "--against", "0"))
        .isEqualTo(Exit.WRONG_USE);
  }

  @Test
  void aVerdictOnAReleaseWithoutEvidenceIsRefusedInWords() throws IOException {
    fill();
    Path words = Files.writeString(folder.resolve("words.txt"), "Reads long.");
    int code =
        run(
            "verdict",
            "publish",
            "--data",
            folder.toString(),
            "--model",
            "Fell 2",
            "--firmware",
            "9.9",
            "--words",
            words.toString());
    assertThat(code).isEqualTo(Exit.FINDINGS);
    assertThat(err.toString()).startsWith("milewarden: ");
  }

  @Test
  void wordsThatAreNotThereAreAFailureThatNamesTheFile() {
    fill();
    int code =
        run(
            "verdict",
            "publish",
            "--data",
            folder.toString(),
            "--model",
            "Fell 2",
            "--firmware",
            "2.1.0",
            "--words",
            folder.resolve("none.txt").toString());
    assertThat(code).isEqualTo(Exit.FAILURE);
    assertThat(err.toString()).contains("none.txt");
  }
}
