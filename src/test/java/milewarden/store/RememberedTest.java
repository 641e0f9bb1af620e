package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.file.Batches;
import milewarden.store.file.FileQueue;
import milewarden.store.judged.Changes;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Models;
import milewarden.store.run.Runs;
import milewarden.verdict.PassEvidence.Exclusion;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What was worked out before holds until the store changes, whoever changes it. */
final class RememberedTest {
  // The clock stands still: no time tells one change from another.
  private static final Instant NOW = Instant.parse("2026-11-20T18:00:00Z");

  @TempDir Path folder;
  private final AtomicInteger asked = new AtomicInteger();

  private record Names(List<String> all) {}

  private List<String> names(Database database) {
    return database
        .read(
            tx ->
                Changes.unchanged(
                    tx,
                    Names.class,
                    "names",
                    () -> {
                      asked.incrementAndGet();
                      return new Names(Models.units(tx).stream().map(Models.Unit::name).toList());
                    }))
        .all();
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void itIsWorkedOutOnceAndAgainAfterAChange(TestStores stores) {
    try (Database database = stores.open(folder, () -> NOW)) {
      assertThat(names(database)).isEmpty();
      for (int i = 0; i < 20; i++) names(database);
      assertThat(asked).hasValue(1);
      database.change(tx -> Models.unit(tx, "fell-2-a", "Fell 2"));
      assertThat(names(database)).containsExactly("fell-2-a");
      assertThat(asked).hasValue(2);
      // A transaction that changes sees what it did itself.
      database.change(
          tx -> {
            Models.unit(tx, "fell-2-b", "Fell 2");
            assertThat(
                    Changes.unchanged(
                            tx,
                            Names.class,
                            "names",
                            () ->
                                new Names(
                                    Models.units(tx).stream().map(Models.Unit::name).toList()))
                        .all())
                .containsExactly("fell-2-a", "fell-2-b");
          });
      assertThat(names(database)).containsExactly("fell-2-a", "fell-2-b");
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatTouchesNoRowChangesNothing(TestStores stores) {
    try (Database database = stores.open(folder, () -> NOW)) {
      names(database);
      database.change(tx -> Batches.told(tx));
      database.change(tx -> FileQueue.claim(tx, 10, Duration.ofMinutes(1)));
      assertThat(names(database)).isEmpty();
      assertThat(asked).hasValue(1);
      database.change(tx -> Models.unit(tx, "fell-2-a", "Fell 2"));
      assertThat(names(database)).containsExactly("fell-2-a");
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatABatchOfRowsTouchesIsSeen(TestStores stores) {
    try (Database database = stores.open(folder, () -> NOW)) {
      database.change(tx -> Models.unit(tx, "fell-2-a", "Fell 2"));
      names(database);
      database.change(
          tx ->
              tx.batch("update unit set name = :name where name = :old")
                  .bind("name", "fell-2-b")
                  .bind("old", "fell-2-a")
                  .add()
                  .execute());
      assertThat(names(database)).containsExactly("fell-2-b");
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatAnotherProgramChangesIsSeen(TestStores stores) {
    StoreSettings settings = stores.fresh(folder);
    try (Database database = Database.open(settings, () -> NOW);
        Database another = Database.open(settings, () -> NOW)) {
      String before = database.read(Changes::trace);
      assertThat(database.read(Changes::trace)).isEqualTo(before);
      another.change(tx -> Samples.put(tx, Samples.course("loop", "v1")));
      // Each of the connections that read, and each at any time.
      for (int i = 0; i < 8; i++)
        assertThat(database.read(Changes::trace)).as("reading " + i).isNotEqualTo(before);
    }
  }

  private int passesOf(Database database, ModelId model) {
    return database
        .read(
            tx ->
                Changes.unmoved(
                    tx,
                    List.of(model),
                    Passes.class,
                    model,
                    () -> {
                      asked.incrementAndGet();
                      return new Passes(EvidenceRows.of(tx, model, Engine.VERSION).size());
                    }))
        .n();
  }

  private record Passes(int n) {}

  /** Each reading of a connection of its own would be worked out once: one answer serves all. */
  private void assertAnew(Database database, ModelId model, int passes) {
    int before = asked.get();
    for (int i = 0; i < 8; i++) assertThat(passesOf(database, model)).isEqualTo(passes);
    assertThat(asked).hasValue(before + 1);
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatRestsOnAModelOutlivesRecordingsOfOthersAndNothingElse(TestStores stores) {
    StoreSettings settings = stores.fresh(folder);
    try (Database database = Database.open(settings, () -> NOW);
        Database another = Database.open(settings, () -> NOW)) {
      ReferenceCourse loop = database.write(tx -> Samples.put(tx, Samples.course("loop", "v1")));
      RunId first =
          database.write(tx -> Samples.run(tx, "A1", "1.0", "s1", Samples.T0, loop, 1.0, 1.1));
      database.change(tx -> Samples.run(tx, "B1", "1.0", "s2", Samples.T0, loop, 1.0));
      ModelId model = database.read(tx -> Runs.find(tx, first)).orElseThrow().model();
      assertAnew(database, model, 2);

      database.change(tx -> Samples.run(tx, "B1", "1.0", "s3", later(1), loop, 1.0));
      another.change(tx -> Samples.run(tx, "B1", "1.0", "s4", later(2), loop, 1.0));
      assertThat(passesOf(database, model)).isEqualTo(2);
      assertThat(asked).as("others' recordings").hasValue(1);

      another.change(tx -> Samples.run(tx, "A1", "1.0", "s5", later(3), loop, 1.0));
      assertAnew(database, model, 3);
      database.change(tx -> Samples.run(tx, "A1", "1.0", "s6", later(4), loop, 1.0));
      assertAnew(database, model, 4);
      // Its own control unit's, which marks whoever was carried beside it.
      database.change(
          tx -> {
            Samples.run(tx, "C1", "1.0", "s6", later(5), loop, 1.0);
            Models.control(tx, Models.findUnit(tx, "C1").orElseThrow().id(), true);
          });
      assertAnew(database, model, 5);
      // What nobody marks: a run put by, a pass left out, a course that is replaced.
      database.change(
          tx -> Exclusions.exclude(tx, first, 1, Exclusion.Reason.WRONG_COURSE, "me", ""));
      assertAnew(database, model, 5);
      database.change(tx -> Runs.hold(tx, first, Optional.of(first)));
      assertAnew(database, model, 3);
      another.change(tx -> Samples.put(tx, Samples.course("loop", "v2")));
      assertAnew(database, model, 0);
    }
  }

  private static Instant later(int days) {
    return Samples.T0.plus(Duration.ofDays(days));
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatEveryPageAsksIsReadOnceUntilAnybodyWrites(TestStores stores) {
    StoreSettings settings = stores.fresh(folder);
    try (Database database = Database.open(settings, () -> NOW);
        Database another = Database.open(settings, () -> NOW)) {
      assertThat(counted(database)).isZero();
      for (int i = 0; i < 20; i++) assertThat(counted(database)).isZero();
      // One connection after the other: a second one is made where two read at once.
      assertThat(asked).hasValue(1);
      database.change(tx -> Models.unit(tx, "fell-2-a", "Fell 2"));
      assertThat(counted(database)).isEqualTo(1);
      another.change(tx -> Models.unit(tx, "fell-2-b", "Fell 2"));
      for (int i = 0; i < 8; i++) assertThat(counted(database)).as("reading " + i).isEqualTo(2);
      database.change(
          tx -> {
            Models.unit(tx, "fell-2-c", "Fell 2");
            assertThat(counted(tx)).as("in its midst").isEqualTo(3);
          });
    }
  }

  private int counted(Database database) {
    return database.read(this::counted);
  }

  private int counted(Tx tx) {
    return tx.unwritten(
        "units",
        () -> {
          asked.incrementAndGet();
          return Models.units(tx).size();
        });
  }

  @Test
  void whoeverWorksItOutIsToldThatAnotherWaits() throws Exception {
    Remembered remembered = new Remembered();
    Thread second = new Thread(() -> remembered.answer("key", "trace", () -> "second"));
    assertThat(remembered.isAwaited("key")).isFalse();
    remembered.answer(
        "key",
        "trace",
        () -> {
          assertThat(remembered.isAwaited("key")).as("by nobody else").isFalse();
          second.start();
          while (!remembered.isAwaited("key")) Thread.onSpinWait();
          assertThat(remembered.isAwaited("another")).isFalse();
          return "first";
        });
    second.join();
    assertThat(remembered.isAwaited("key")).isFalse();
    assertThat(remembered.answer("key", "trace", () -> "anew")).isEqualTo("first");
  }

  @Test
  void whatTwoAskAtOnceIsWorkedOutOnce() throws Exception {
    Remembered remembered = new Remembered();
    AtomicInteger worked = new AtomicInteger();
    Thread second =
        new Thread(() -> remembered.answer("key", "trace", () -> worked.incrementAndGet()));
    Object first =
        remembered.answer(
            "key",
            "trace",
            () -> {
              second.start();
              while (second.getState() != Thread.State.BLOCKED
                  && second.getState() != Thread.State.TERMINATED) Thread.onSpinWait();
              return worked.incrementAndGet();
            });
    second.join();
    assertThat(first).isEqualTo(1);
    assertThat(worked).hasValue(1);
  }
}
