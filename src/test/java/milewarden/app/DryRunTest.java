package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import milewarden.cli.Exit;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.intake.TrialMeasuring;
import milewarden.review.DryRun;
import milewarden.review.Forecast;
import milewarden.store.Database;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Models;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.replay.Moves;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a change would move, and that it does move just that when it is made. */
final class DryRunTest {
  @TempDir Path folder;
  private Season season;

  @BeforeEach
  void furnish() throws Exception {
    season = new Season(folder);
  }

  private DryRun dryRun(Database database) {
    return new DryRun(
        database,
        season.config.policy(),
        season.config.zone(),
        new TrialMeasuring(database, season.config.inbox(), season.config.zone())::measure);
  }

  private static ModelJudgement judged(Database database) {
    return database.read(
        tx -> Judgements.find(tx, Models.find(tx, "K1").orElseThrow().id()).orElseThrow());
  }

  /** Everything that a writing dry run would touch. */
  private List<Integer> rows() throws Exception {
    return List.of(
        season.count("select count(*) from measurement"),
        season.count("select count(*) from course_version"),
        season.count("select count(*) from due_item"),
        season.count("select count(*) from due_event"),
        season.count("select count(*) from outbox"),
        season.count("select count(*) from look"),
        season.count("select count(*) from recomputation"),
        season.count("select count(*) from mark"));
  }

  /** The pier as if it were a quarter of a percent longer than it was measured. */
  private static String longer() {
    String text = CourseFile.write(Household.PIER);
    String other = text.replaceFirst("(\"measured_length_m\"\\s*:\\s*)400(\\.0)?", "$1401.0");
    assertThat(other).isNotEqualTo(text);
    return other;
  }

  @Test
  void aCourseMeasuredAnewMovesJustWhatItsDryRunSaid() throws Exception {
    try (Database database = season.look()) {
      List<DueItems.Due> before = season.run(database);
      ModelJudgement was = judged(database);
      List<Integer> rows = rows();
      ReferenceCourse version =
          CourseFile.read(longer().getBytes(StandardCharsets.UTF_8))
              .fold(
                  good -> good.course(),
                  bad -> {
                    throw new AssertionError(bad.issues());
                  });
      Forecast found = dryRun(database).course(version);
      assertThat(rows()).as("nothing was written").isEqualTo(rows);
      assertThat(judged(database)).isEqualTo(was);
      assertThat(found.runs()).isEqualTo(9);
      assertThat(found.lost()).isEmpty();
      Moves moves = found.moves().get(0);
      Moves.FigureMove figure =
          moves.figures().stream()
              .filter(f -> f.firmware().equals("1.0"))
              .findFirst()
              .orElseThrow();
      // e = D/R - 1, so with R x 1.0025 it is (1 + e)/1.0025 - 1: algebra.
      double e = figure.before().orElseThrow();
      assertThat(figure.after().orElseThrow())
          .isCloseTo(100 * ((1 + e / 100) / 1.0025 - 1), within(1e-9));

      Files.writeString(season.house.data.resolve("courses/pier.geojson"), longer());
      try (App app = new App(season.config, InstantSource.system()).start()) {
        assertThat(app.port()).isPositive();
        Await.until(
            "the new version is in force and measured",
            () -> "",
            () -> judged(database).judgedAt().isAfter(was.judgedAt()));
        Season.atRest(database);
      }
      ModelJudgement is = judged(database);
      for (Moves.FigureMove f : moves.figures())
        assertThat(mean(is, f.firmware())).isCloseTo(f.after().orElseThrow(), within(1e-12));
      assertThat(keys(is)).isEqualTo(after(was, moves));
      assertThat(Season.open(database)).as("the public was told otherwise").isNotEqualTo(before);
    }
  }

  private static double mean(ModelJudgement j, String firmware) {
    return j.release(firmware).flatMap(ReleaseJudgement::pooled).orElseThrow().meanPercent();
  }

  private static Set<String> keys(ModelJudgement j) {
    Set<String> keys = new TreeSet<>();
    j.due().forEach(d -> keys.add(d.key()));
    return keys;
  }

  private static Set<String> after(ModelJudgement was, Moves moves) {
    Set<String> keys = keys(was);
    moves.gone().forEach(d -> keys.remove(d.key()));
    moves.raised().forEach(d -> keys.add(d.key()));
    return keys;
  }

  @Test
  void anotherPolicyAndTheSameEngineAreTriedByCommandAndNothingIsWritten() throws Exception {
    try (Database database = season.look()) {
      season.run(database);
      List<Integer> rows = rows();
      // Limits wide enough for anything: what failed before passes.
      Policy p = season.config.policy();
      Forecast wide =
          dryRun(database).policy(p.withPurposes(List.of(new Policy.Purpose("training", 40, 80))));
      assertThat(wide.moves().get(0).decisions())
          .as("racing and pacing are purposes no longer")
          .anySatisfy(
              d -> {
                assertThat(d.purpose()).isEqualTo("racing");
                assertThat(d.after()).isEmpty();
              });
      assertThat(wide.moves().get(0).decisions())
          .filteredOn(d -> d.purpose().equals("training") && d.firmware().equals("1.0"))
          .allSatisfy(d -> assertThat(d.after()).hasValue(Decision.PASS));
      assertThat(dryRun(database).policy(p).none()).isTrue();

      Path policy = Files.writeString(folder.resolve("other.yaml"), "verdict:\n  months: 1\n");
      StringWriter out = new StringWriter();
      int same = run(out, "engine");
      assertThat(out.toString()).contains("This engine would change nothing.");
      assertThat(same).isEqualTo(Exit.DONE);
      run(out, "policy", policy.toString());
      assertThat(out.toString()).contains("Nothing was written and nobody was told.");
      Path course = Files.writeString(folder.resolve("pier.geojson"), longer());
      assertThat(run(out, "course", course.toString())).isEqualTo(Exit.FINDINGS);
      assertThat(out.toString()).contains("1.0: mean error", "Would become due:");
      assertThat(run(out, "course", policy.toString())).isEqualTo(Exit.WRONG_USE);
      assertThat(rows()).isEqualTo(rows);
    }
  }

  private int run(StringWriter out, String... command) {
    List<String> line = new java.util.ArrayList<>(List.of("dry-run"));
    line.addAll(List.of(command));
    return season.command(out, line.toArray(String[]::new));
  }
}
