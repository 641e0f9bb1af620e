package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.Id.ModelId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.SheetRows;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.run.ArrivalRows;
import milewarden.store.run.Models;
import milewarden.store.told.Outbox;
import milewarden.units.UnitChoice;
import milewarden.verdict.Arrivals;
import milewarden.verdict.DueItem;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** A look waits for its sessions to be whole, and is taken without anybody's doing. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class WaitingTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0.plus(Duration.ofDays(3));
  private Review review;
  private ReferenceCourse course = Samples.course("mill-lane", "v1");

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
    review =
        new Review(
            database,
            Policy.defaults(),
            ZoneOffset.UTC,
            Digits.of(UnitChoice.METRIC, Locale.ENGLISH, ZoneOffset.UTC),
            Optional.empty(),
            Audience.nobody(ZoneOffset.UTC),
            () -> {});
    database.change(tx -> Samples.put(tx, course));
    database.change(
        tx -> {
          for (int day = 0; day < 8; day++)
            run(tx, "1.0", "old " + day, day - 40, 0.2 + 0.05 * (day % 3));
        });
    now = now.plus(Duration.ofDays(1));
    database.change(
        tx -> {
          for (int day = 0; day < 3; day++)
            run(tx, "2.0", "new " + day, day, 2.2 + 0.05 * (day % 3));
          Batches.close(tx);
        });
  }

  @AfterEach
  void close() {
    database.close();
  }

  private void run(Tx tx, String firmware, String session, int day, double error) {
    Instant start = Samples.T0.plus(Duration.ofDays(day));
    Samples.run(tx, "A1", firmware, session, start, course, error);
  }

  private int looks() {
    ModelId model = database.read(tx -> Models.find(tx, "Model A")).orElseThrow().id();
    return database.read(tx -> Judgements.looks(tx, model)).size();
  }

  private Arrivals arrivals() {
    ModelId model = database.read(tx -> Models.find(tx, "Model A")).orElseThrow().id();
    return database.read(tx -> ArrivalRows.of(tx, model));
  }

  private List<DueItem.Cause> causes() {
    ModelId model = database.read(tx -> Models.find(tx, "Model A")).orElseThrow().id();
    return database.read(tx -> DueItems.open(tx, model)).stream()
        .map(d -> d.item().cause())
        .toList();
  }

  @Test
  void theJudgeComesBackWhenTheQuietTimeIsOver() {
    review.run();
    assertThat(looks()).isZero();
    assertThat(causes()).doesNotContain(DueItem.Cause.COMPARISON_NOT_SETTLED);
    now = now.plus(Duration.ofMinutes(59));
    review.run();
    assertThat(looks()).isZero();
    now = now.plus(Duration.ofMinutes(1));
    review.run();
    assertThat(looks()).isEqualTo(1);
    assertThat(causes()).contains(DueItem.Cause.COMPARISON_WORSE);
    assertThat(database.<Integer>read(Marks::count)).isZero();
  }

  @Test
  void withEveryRowOfItsSheetThereASessionIsWholeAtOnce() {
    database.change(
        tx -> {
          for (int day = 0; day < 3; day++) FileQueue.measured(tx, row(tx, "new " + day, "A1"));
          Batches.close(tx);
        });
    assertThat(arrivals().complete()).containsExactlyInAnyOrder("new 0", "new 1", "new 2");
    assertThat(arrivals().measuring()).isFalse();
    review.run();
    assertThat(looks()).isEqualTo(1);
  }

  @Test
  void aRowWhoseRecordingIsMissingIsWaitedFor() {
    database.change(
        tx -> {
          for (String unit : List.of("A1", "A2")) FileQueue.measured(tx, row(tx, "new 2", unit));
          Batches.close(tx);
        });
    assertThat(arrivals().complete()).isEmpty();
    assertThat(arrivals().last()).containsKeys("new 0", "new 2").containsEntry("new 2", now);
    review.run();
    assertThat(looks()).isZero();
  }

  @Test
  void whatIsInButNotMeasuredIsWaitedForToo() {
    FileId[] sheet = new FileId[1];
    database.change(
        tx -> {
          for (int day = 0; day < 2; day++) FileQueue.measured(tx, row(tx, "new " + day, "A1"));
          sheet[0] = row(tx, "new 2", "A1");
        });
    assertThat(arrivals().measuring()).isTrue();
    review.run();
    review.run();
    assertThat(looks()).isZero();
    database.change(tx -> FileQueue.measured(tx, sheet[0]));
    review.run();
    assertThat(looks()).isEqualTo(1);
  }

  @Test
  void aSessionThatAnothersRecordingMakesWholeIsLookedAtAtOnce() {
    database.change(
        tx -> {
          for (int day = 0; day < 3; day++) FileQueue.measured(tx, row(tx, "new " + day, "A1"));
          FileQueue.measured(tx, row(tx, "new 2", "A2"));
          Batches.close(tx);
        });
    review.run();
    assertThat(looks()).isZero();
    now = now.plusSeconds(10);
    database.change(
        tx -> {
          // Refused, say: nothing of this model's came in, and nobody marks it.
          Contents.Packed bytes = Contents.pack("another".getBytes(StandardCharsets.UTF_8));
          Contents.put(tx, bytes);
          FileId other =
              ReceivedFiles.receive(
                  tx,
                  Batches.current(tx),
                  "A2/new 2.gpx",
                  bytes.sha256(),
                  ReceivedFiles.Kind.TRACK);
          FileQueue.refused(tx, other, new Reason("not-a-track", "", "No track."));
        });
    assertThat(database.<Boolean>read(Marks::looksCanBeTaken)).isTrue();
    review.run();
    assertThat(looks()).isEqualTo(1);
    assertThat(database.<Boolean>read(Marks::looksCanBeTaken)).isFalse();
  }

  @Test
  void filesOfOneSessionAreToldOnceInWhateverOrderTheyCome() {
    // Together they say 3.6 percent, beyond the 2 of training; apart 3.6, 0.6 and 6.6.
    double[] files = {3.6, 0.6, 6.6};
    int[][] orders = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    review =
        new Review(
            database,
            Policy.defaults(),
            ZoneOffset.UTC,
            Digits.of(UnitChoice.METRIC, Locale.ENGLISH, ZoneOffset.UTC),
            Optional.empty(),
            new Audience(List.of("tester@tests.example"), ZoneOffset.UTC, false),
            () -> {});
    database.change(
        tx -> {
          for (int day = 0; day < 2; day++)
            for (char model = 'B'; model < 'H'; model++)
              run(tx, model, "earlier " + day, day, 0, 3.55 + 0.1 * day);
          Batches.close(tx);
        });
    now = now.plus(Duration.ofHours(2));
    review.run();
    int before = messages().size();
    for (int file = 0; file < files.length; file++) {
      int of = file;
      now = now.plus(Duration.ofMinutes(10));
      database.change(
          tx -> {
            for (char model = 'B'; model < 'H'; model++) {
              int which = orders[model - 'B'][of];
              run(tx, model, "last ", 2, which, files[which]);
            }
            // Each file is a batch of its own: what is due would be told at once.
            Batches.close(tx);
          });
      review.run();
      assertThat(messages()).hasSize(before);
    }
    now = now.plus(Duration.ofMinutes(59));
    review.run();
    assertThat(messages()).hasSize(before);
    now = now.plus(Duration.ofMinutes(1));
    review.run();
    assertThat(messages()).hasSize(before + 1);
    now = now.plus(Duration.ofDays(1));
    review.run();
    assertThat(messages()).hasSize(before + 1);
    for (char model = 'B'; model < 'H'; model++) {
      String name = "Model " + model;
      assertThat(messages()).as(name).anyMatch(m -> m.text().contains(name));
      ModelId id = database.read(tx -> Models.find(tx, name)).orElseThrow().id();
      List<DueItems.Due> due = database.read(tx -> DueItems.of(tx, id));
      assertThat(due)
          .as(name)
          .filteredOn(d -> d.item().cause() == DueItem.Cause.THRESHOLD_RAISED)
          .singleElement()
          .satisfies(d -> assertThat(d.closed()).isEmpty());
    }
  }

  private void run(Tx tx, char model, String session, int day, int minute, double error) {
    Instant start = Samples.T0.plus(Duration.ofDays(day)).plusSeconds(900L * minute);
    Samples.run(tx, model + "1", "1.0", session + model, start, course, error);
  }

  private List<Outbox.Message> messages() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 100));
  }

  /** A row of a sheet that names the recording of {@code unit}. */
  private static FileId row(Tx tx, String session, String unit) {
    Contents.Packed bytes = Contents.pack(("sheet of " + unit).getBytes(StandardCharsets.UTF_8));
    Contents.put(tx, bytes);
    FileId sheet =
        ReceivedFiles.receive(
            tx, Batches.current(tx), "session.csv", bytes.sha256(), ReceivedFiles.Kind.SHEET);
    SheetRows.take(
        tx,
        new SheetRows.Words(
            new SheetRows.Key(session, unit, "1"),
            sheet,
            2,
            unit + "/" + session + ".gpx",
            Map.of(),
            Map.of()));
    return sheet;
  }
}
