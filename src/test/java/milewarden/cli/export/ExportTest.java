package milewarden.cli.export;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.accuracy.Engine;
import milewarden.accuracy.ShownRun;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.cli.kept.Tools;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.geodesy.Position;
import milewarden.report.Digits;
import milewarden.simulator.InventedCourse;
import milewarden.store.Database;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.SheetRows;
import milewarden.store.run.Courses;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.units.LengthUnit;
import milewarden.units.UnitChoice;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is written is read again by a general-purpose reader of CSV. */
final class ExportTest {
  private static final Instant START = Instant.parse("2026-09-03T17:00:00Z");
  private static final String NOTES = "wet, \"slow\"\nand a second line; =1+1";

  @TempDir Path folder;

  private Database open() {
    return TestStores.SQLITE.open(folder.resolve("store"), InstantSource.fixed(START));
  }

  private static void fill(Tx tx) {
    ReferenceCourse course = InventedCourse.circle("loop", new Position(0, 0), 63.66, 72);
    byte[] file = "{}".getBytes(StandardCharsets.UTF_8);
    Courses.put(tx, course, "loop.geojson", Contents.pack(file), List.of());
    Models.Unit unit = Models.unit(tx, "a", "Fell 2");
    LocalDate day = LocalDate.of(2026, 9, 3);
    Firmware.Known firmware = Firmware.seen(tx, unit.model(), "2.1.0", day);
    Sessions.Session session = Sessions.tagged(tx, "evening", START, day);
    var run =
        Runs.ofRow(
            tx,
            new SheetRows.Key("evening", "a", "1"),
            new Runs.Facts(
                session.id(),
                unit.id(),
                firmware.id(),
                "loop",
                Carriage.SWING_LEFT,
                Gait.RUN,
                "",
                START,
                Optional.empty(),
                Optional.empty(),
                Optional.of(NOTES)));
    Reading reading = new Reading(0.41, LengthUnit.KILOMETRE, 0.01, Rounding.ROUNDED);
    Results.put(
        tx,
        run,
        Engine.VERSION,
        course,
        ShownRun.measure(course, 1, reading),
        Direction.FORWARD,
        reading);
  }

  private Path exported() {
    try (Database database = open()) {
      database.change(ExportTest::fill);
    }
    StringWriter said = new StringWriter();
    assertThat(export(said)).as(said.toString()).isEqualTo(Exit.DONE);
    return folder.resolve("out");
  }

  private int export(StringWriter said) {
    Path to = folder.resolve("out");
    ExportCommand command =
        new ExportCommand(
            places ->
                new Tools(
                    open(),
                    Policy.defaults(),
                    ZoneOffset.UTC,
                    Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC)));
    return Milewarden.run(
        Map.of("export", () -> command),
        new PrintWriter(said),
        new PrintWriter(said),
        "export",
        to.toString());
  }

  private static List<List<String>> read(Path file) throws IOException {
    CsvMapper csv = CsvMapper.builder().enable(CsvParser.Feature.WRAP_AS_ARRAY).build();
    List<List<String>> rows = new ArrayList<>();
    try (MappingIterator<String[]> all = csv.readerFor(String[].class).readValues(file.toFile())) {
      while (all.hasNext()) rows.add(List.of(all.next()));
    }
    return rows;
  }

  private static String cell(List<List<String>> rows, String column) {
    return rows.get(1).get(rows.get(0).indexOf(column));
  }

  @Test
  void everyColumnOfEveryFileStandsInTheDictionaryWithItsMeaning() throws IOException {
    Path to = exported();
    List<List<String>> said = read(to.resolve("dictionary.csv"));
    List<List<String>> found = new ArrayList<>();
    try (Stream<Path> files = Files.list(to)) {
      for (Path file : files.sorted().toList()) {
        String name = String.valueOf(file.getFileName());
        if (name.equals("dictionary.csv")) continue;
        for (String column : read(file).get(0)) found.add(List.of(name, column));
      }
    }
    assertThat(said.subList(1, said.size()).stream().map(r -> r.subList(0, 2)))
        .containsExactlyInAnyOrderElementsOf(found);
    for (List<String> row : said) assertThat(row.get(3)).as(row.toString()).isNotBlank();
  }

  @Test
  void aDamagedVerdictIsNamedAndItsWordsAreThereAndSoIsTheRest() throws IOException {
    exported();
    try (Database database = open()) {
      database.change(
          tx ->
              tx.update(
                      "insert into verdict (model_id, number, firmware, published_at, published_by,"
                          + " words, record) select id, 1, '2.1.0', :now, 'Ann', 'Reads well.', '{torn'"
                          + " from model")
                  .bind("now", START)
                  .execute());
    }
    StringWriter said = new StringWriter();
    assertThat(export(said)).as(said.toString()).isEqualTo(Exit.FINDINGS);
    assertThat(said.toString())
        .contains("written  ", "verdict 1 on Fell 2: its row in verdicts.csv has no figures");
    List<List<String>> verdicts = read(folder.resolve("out/verdicts.csv"));
    assertThat(cell(verdicts, "model")).isEqualTo("Fell 2");
    assertThat(cell(verdicts, "words")).isEqualTo("Reads well.");
    assertThat(cell(verdicts, "published_by")).isEqualTo("Ann");
    assertThat(cell(verdicts, "stands")).isEqualTo("true");
    assertThat(cell(verdicts, "mean_error")).isEmpty();
    assertThat(cell(verdicts, "decisions")).isEmpty();
    assertThat(read(folder.resolve("out/runs.csv"))).hasSize(2);
    assertThat(read(folder.resolve("out/changes.csv"))).isNotEmpty();
  }

  @Test
  void runsAndResultsStandAsTheyWereEntered() throws IOException {
    Path to = exported();
    List<List<String>> runs = read(to.resolve("runs.csv"));
    assertThat(runs).hasSize(2);
    assertThat(cell(runs, "firmware")).isEqualTo("2.1.0");
    assertThat(cell(runs, "started_at")).isEqualTo("2026-09-03T17:00:00Z");
    assertThat(cell(runs, "notes")).isEqualTo(NOTES);
    List<List<String>> results = read(to.resolve("results.csv"));
    assertThat(cell(results, "run_id")).isEqualTo(cell(runs, "id"));
    // 0.41 km in steps of 0.01 km, rounded: 405 m to 415 m.
    assertThat(Double.parseDouble(cell(results, "shown"))).isEqualTo(410);
    assertThat(Double.parseDouble(cell(results, "shown_low"))).isEqualTo(405);
    assertThat(Double.parseDouble(cell(results, "shown_high"))).isEqualTo(415);
    // The signed error is shown less reference, of the reference, by definition.
    double reference = Double.parseDouble(cell(results, "reference"));
    assertThat(Double.parseDouble(cell(results, "shown_error")))
        .isCloseTo(100 * (410 - reference) / reference, within(1e-9));
    assertThat(cell(results, "track")).isEmpty();
  }
}
