package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import milewarden.accuracy.Engine;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.review.tell.Telling;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.judged.DueHistory;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Recomputations;
import milewarden.store.judged.Recomputations.Because;
import milewarden.store.run.Models;
import milewarden.store.told.Outbox;
import milewarden.units.PercentRange;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.Source;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;
import org.slf4j.LoggerFactory;

/** The review stage on both databases, with a judge that finds what the test tells it. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class ReviewTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0.plus(Duration.ofDays(10));
  private final List<DueItem> found = new ArrayList<>();
  private final List<ModelHistory> histories = new ArrayList<>();
  private final AtomicInteger woken = new AtomicInteger();
  private Runnable meanwhile = () -> {};
  private Review review;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
    review =
        new Review(
            database,
            this::judge,
            new Telling(
                Digits.of(UnitChoice.METRIC, Locale.ENGLISH, ZoneOffset.UTC),
                Optional.empty(),
                Audience.nobody(ZoneOffset.UTC)),
            woken::incrementAndGet);
  }

  @AfterEach
  void close() {
    database.close();
  }

  private ModelJudgement judge(ModelHistory history, Instant at) {
    histories.add(history);
    meanwhile.run();
    return new ModelJudgement(
        history.model(),
        at,
        Engine.VERSION,
        List.of(),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of(),
        found.stream().filter(d -> d.model().equals(history.model())).toList(),
        Optional.empty());
  }

  private static DueItem item(String model, String key, DueItem.Cause cause) {
    return new DueItem(
        key,
        DueItem.Kind.VERDICT_UPDATE_DUE,
        DueItem.Severity.REGRESSION,
        cause,
        model,
        "2.0",
        new DueItem.Facts(
            Optional.of("1.0"),
            List.of(),
            OptionalDouble.of(1.3),
            Optional.of(new PercentRange(0.7, 1.9)),
            OptionalDouble.of(2.0),
            OptionalInt.of(6),
            OptionalInt.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.of(Source.SHOWN)),
        new DueItem.Advice(
            OptionalInt.of(0),
            List.of(),
            Optional.empty(),
            OptionalDouble.empty(),
            Optional.empty()),
        List.of(1L, 2L));
  }

  private void run(String unit, String session) {
    database.change(
        tx ->
            Samples.run(
                tx,
                unit,
                "2.0",
                session,
                Samples.T0,
                Samples.put(tx, Samples.course("mill-lane", "v1")),
                1.0,
                1.2));
  }

  private void closeBatch() {
    database.change(Batches::close);
  }

  private ModelId model(String name) {
    return database.read(tx -> Models.find(tx, name)).orElseThrow().id();
  }

  private List<Outbox.Message> messages() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 100));
  }

  private List<DueItems.Due> due() {
    return database.read(tx -> DueItems.open(tx));
  }

  private int marks() {
    return database.read(Marks::count);
  }

  @Test
  void theJudgeIsHandedTheRunsAndTheReleases() {
    run("A1", "S1");
    review.run();
    assertThat(histories).hasSize(1);
    assertThat(histories.get(0).model()).isEqualTo("Model A");
    assertThat(histories.get(0).passes()).hasSize(2);
    assertThat(histories.get(0).releases())
        .singleElement()
        .satisfies(r -> assertThat(r.firstSeen()).hasValue(Samples.T0));
    assertThat(marks()).isZero();
    Optional<ModelJudgement> kept = database.read(tx -> Judgements.find(tx, model("Model A")));
    assertThat(kept.orElseThrow().judgedAt()).isEqualTo(now);
  }

  @Test
  void judgingTwiceGivesTheSameRowsAndOneMessage() {
    run("A1", "S1");
    closeBatch();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    review.run();
    List<DueItems.Due> first = due();
    List<Outbox.Message> told = messages();
    assertThat(first).hasSize(1);
    assertThat(told).hasSize(1);
    assertThat(told.get(0).subject()).contains("Model A").contains("2.0");
    assertThat(woken).hasValue(1);
    database.change(tx -> Marks.mark(tx, model("Model A")));
    review.run();
    assertThat(due()).isEqualTo(first);
    assertThat(messages()).isEqualTo(told);
  }

  @Test
  void theLogNamesAModelWhoseDueItemsChangedAndNoOther() {
    Logger logger = (Logger) LoggerFactory.getLogger(Review.class);
    ListAppender<ILoggingEvent> logged = new ListAppender<>();
    logged.start();
    logger.setLevel(Level.INFO);
    logger.addAppender(logged);
    try {
      run("A1", "S1");
      review.run();
      assertThat(logged.list).isEmpty();
      found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
      run("A1", "S2");
      review.run();
      found.clear();
      run("A1", "S3");
      review.run();
      assertThat(logged.list.stream().map(ILoggingEvent::getFormattedMessage))
          .containsExactly(
              "Model A is judged: due items raised 1, closed 0",
              "Model A is judged: due items raised 0, closed 1");
    } finally {
      logger.detachAppender(logged);
      logger.setLevel(null);
    }
  }

  @Test
  void aMarkRenewedWhileItsModelIsJudgedStays() {
    run("A1", "S1");
    meanwhile = () -> database.change(tx -> Marks.mark(tx, model("Model A")));
    assertThat(review.judgeNext()).isTrue();
    assertThat(marks()).isEqualTo(1);
    meanwhile = () -> {};
    assertThat(review.judgeNext()).isTrue();
    assertThat(marks()).isZero();
    assertThat(review.judgeNext()).isFalse();
  }

  @Test
  void aModelBeingJudgedIsJudgedByNobodyElse() {
    run("A1", "S1");
    meanwhile = () -> assertThat(review.judgeNext()).isFalse();
    assertThat(review.judgeNext()).isTrue();
    assertThat(histories).hasSize(1);
  }

  @Test
  void aJudgeThatFailsLosesNoMark() {
    run("A1", "S1");
    run("B1", "S1");
    meanwhile =
        () -> {
          throw new IllegalStateException("our mistake");
        };
    assertThatThrownBy(review::judgeNext).hasMessage("our mistake");
    assertThat(marks()).isEqualTo(2);
    meanwhile = () -> {};
    assertThat(review.judgeNext()).as("the other model").isTrue();
    assertThat(review.judgeNext()).as("the first is claimed still").isFalse();
    now = now.plusSeconds(61);
    assertThat(review.judgeNext()).isTrue();
    assertThat(marks()).isZero();
  }

  @Test
  void aModelWhoseVerdictIsDamagedIsNotJudgedAndHindersNoOther() {
    run("A1", "S1");
    run("B1", "S1");
    closeBatch();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    found.add(item("Model B", "better", DueItem.Cause.COMPARISON_BETTER));
    database.change(
        tx ->
            tx.update(
                    "insert into verdict (model_id, number, firmware, published_at, published_by,"
                        + " words, record) values (:model, 1, '1.0', :now, 'Ann', 'Good.', '{torn')")
                .bind("model", model("Model A"))
                .bind("now", now)
                .execute());
    Logger logger = (Logger) LoggerFactory.getLogger(Review.class);
    ListAppender<ILoggingEvent> logged = new ListAppender<>();
    logged.start();
    logger.addAppender(logged);
    try {
      review.run();
      assertThat(histories).extracting(ModelHistory::model).containsExactly("Model B");
      assertThat(marks()).isEqualTo(1);
      assertThat(database.read(Marks::stopped)).containsExactly(model("Model A"));
      assertThat(due()).extracting(d -> d.item().model()).containsExactly("Model B");
      assertThat(messages()).as("the batch is told without it").hasSize(1);
      run("A1", "S2");
      closeBatch();
      assertThat(review.judgeNext()).as("it isn't tried at once").isFalse();
      now = now.plus(Duration.ofMinutes(11));
      review.run();
      assertThat(database.read(Marks::stopped)).containsExactly(model("Model A"));
      assertThat(logged.list)
          .filteredOn(e -> e.getLevel() == Level.ERROR)
          .singleElement()
          .extracting(ILoggingEvent::getFormattedMessage)
          .asString()
          .contains("Model A", "milewarden verify");
    } finally {
      logger.detachAppender(logged);
    }
    // As it is in a backup from before it was damaged.
    database.change(tx -> tx.update("delete from verdict").execute());
    now = now.plus(Duration.ofMinutes(11));
    review.run();
    assertThat(histories).extracting(ModelHistory::model).containsExactly("Model B", "Model A");
    assertThat(histories.get(1).passes()).as("those that came in meanwhile count").hasSize(4);
    assertThat(marks()).isZero();
    assertThat(database.read(Marks::stopped)).isEmpty();
    assertThat(messages()).hasSize(2);
  }

  @Test
  void aBatchTellsOnceAtItsEndAndOnlyOfWhatIsOpenThen() {
    run("A1", "S1");
    found.add(item("Model A", "passing", DueItem.Cause.COMPARISON_NOT_SETTLED));
    review.run();
    assertThat(due()).hasSize(1);
    assertThat(messages()).as("the batch is open").isEmpty();
    found.clear();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    found.add(item("Model B", "better", DueItem.Cause.COMPARISON_BETTER));
    run("A1", "S2");
    run("B1", "S2");
    review.run();
    assertThat(messages()).isEmpty();
    closeBatch();
    assertThat(review.tell()).isTrue();
    assertThat(messages()).hasSize(1);
    Outbox.Message message = messages().get(0);
    assertThat(message.text()).contains("Model A").contains("Model B");
    assertThat(due()).allSatisfy(d -> assertThat(d.toldAt()).isPresent());
    assertThat(review.tell()).isFalse();
    assertThat(messages()).hasSize(1);
    List<DueHistory.Event> history = database.read(tx -> DueHistory.history(tx, due().get(0).id()));
    assertThat(history)
        .extracting(DueHistory.Event::what)
        .containsExactly(DueHistory.What.RAISED, DueHistory.What.TOLD);
    assertThat(history.get(1).words()).isEqualTo(message.messageId());
  }

  @Test
  void theMessageComesWithTheLastJudgementOfAClosedBatch() {
    run("A1", "S1");
    run("B1", "S1");
    closeBatch();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    review.judgeNext();
    assertThat(messages()).as("one model is still to be judged").isEmpty();
    review.judgeNext();
    assertThat(messages()).hasSize(1);
  }

  @Test
  void theDecisionAndItsMessageAreKeptTogetherOrNotAtAll() {
    run("A1", "S1");
    closeBatch();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    failing(
        tx -> {
          Marks.Mark mark = Marks.claim(tx, Duration.ofSeconds(60)).orElseThrow();
          assertThat(review.keep(tx, mark, judge(history(tx), tx.now())).queued()).isTrue();
        });
    assertThat(due()).isEmpty();
    assertThat(messages()).isEmpty();
    assertThat(marks()).isEqualTo(1);
    review.run();
    assertThat(due()).hasSize(1);
    assertThat(messages()).hasSize(1);
  }

  private ModelHistory history(Tx tx) {
    return Histories.of(tx, Models.find(tx, "Model A").orElseThrow());
  }

  private void failing(Consumer<Tx> work) {
    assertThatThrownBy(
            () ->
                database.change(
                    tx -> {
                      work.accept(tx);
                      throw new IllegalStateException("killed here");
                    }))
        .hasMessage("killed here");
  }

  @Test
  void anItemWhoseCauseIsGoneClosesByItselfAndMayComeAgain() {
    run("A1", "S1");
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    review.run();
    DueItems.Due first = due().get(0);
    found.clear();
    judgeAgain();
    assertThat(due()).isEmpty();
    DueItems.Due closed = database.read(tx -> DueItems.find(tx, first.id())).orElseThrow();
    assertThat(closed.closed().orElseThrow().by()).isEqualTo("judge");
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    judgeAgain();
    assertThat(due()).hasSize(1);
    assertThat(due().get(0).id()).isNotEqualTo(first.id());
  }

  @Test
  void whatTheTesterClosedStaysClosedWhileItsCauseLasts() {
    run("A1", "S1");
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    review.run();
    DueItems.Due due = due().get(0);
    boolean closed = database.write(tx -> DueItems.close(tx, due.id(), "me", "known"));
    boolean again = database.write(tx -> DueItems.close(tx, due.id(), "me", "known"));
    assertThat(closed).isTrue();
    assertThat(again).isFalse();
    judgeAgain();
    assertThat(due()).isEmpty();
    found.clear();
    judgeAgain();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    judgeAgain();
    assertThat(due()).hasSize(1);
  }

  @Test
  void recomputingTellsNobodyAgainOfWhatWasToldBefore() {
    run("A1", "S1");
    closeBatch();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    review.run();
    assertThat(messages()).hasSize(1);
    found.clear();
    database.change(Marks::all);
    review.run();
    assertThat(due()).isEmpty();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    database.change(Marks::all);
    review.run();
    assertThat(due()).hasSize(1);
    assertThat(messages()).as("the same cause, made anew").hasSize(1);
  }

  @Test
  void aPublishedFigureThatRecomputingMovedIsToldOnce() {
    run("A1", "S1");
    closeBatch();
    review.run();
    found.add(item("Model A", "moved", DueItem.Cause.ENGINE_MOVED_RESULTS));
    database.change(Marks::all);
    review.run();
    assertThat(due()).hasSize(1);
    assertThat(messages()).hasSize(1);
    database.change(Marks::all);
    review.run();
    assertThat(messages()).hasSize(1);
  }

  @Test
  void aModelIsNotJudgedWhileItsRunsWaitForNewResults() {
    run("A1", "S1");
    run("B1", "S2");
    review.run();
    database.change(Marks::all);
    database.change(
        tx -> {
          assertThat(Recomputations.queue(tx, "another", Because.ENGINE, "")).isEqualTo(2);
          ReceivedFiles.Received one = FileQueue.claim(tx, 1, Duration.ofMinutes(5)).get(0);
          FileQueue.measured(tx, one.id());
        });
    histories.clear();
    assertThat(review.judgeNext()).isTrue();
    assertThat(review.judgeNext()).as("the other model's run still waits").isFalse();
    assertThat(histories).extracting(ModelHistory::model).containsExactly("Model A");
    assertThat(marks()).isEqualTo(1);
    database.change(
        tx -> {
          // The worker that claimed it died; it comes back when the lease is over.
          ReceivedFiles.Received two = FileQueue.claim(tx, 1, Duration.ofMinutes(5)).get(0);
          FileQueue.measured(tx, two.id());
        });
    assertThat(review.judgeNext()).isTrue();
    assertThat(marks()).isZero();
  }

  @Test
  void anotherPolicyHasEveryModelJudgedAnewQuietlyAndTheSameOneHasNot() {
    run("A1", "S1");
    review.run();
    Policy policy = Policy.defaults();
    boolean first = database.write(tx -> Recomputations.policy(tx, policy, Engine.VERSION));
    boolean same = database.write(tx -> Recomputations.policy(tx, policy, Engine.VERSION));
    assertThat(first).isFalse();
    assertThat(same).isFalse();
    assertThat(marks()).isZero();
    Policy stricter = Samples.withPurpose(policy, "racing", 0.3, 0.6);
    boolean changed = database.write(tx -> Recomputations.policy(tx, stricter, Engine.VERSION));
    assertThat(changed).isTrue();
    assertThat(marks()).isEqualTo(1);
    List<Recomputations.Queued> log = database.read(tx -> Recomputations.latest(tx, 10));
    assertThat(log)
        .extracting(Recomputations.Queued::because)
        .containsExactly(Because.POLICY, Because.FIRST);
  }

  @Test
  void aRunThatComesDuringARecomputationIsToldAllTheSame() {
    run("A1", "S1");
    review.run();
    database.change(Marks::all);
    database.change(tx -> Marks.mark(tx, model("Model A")));
    closeBatch();
    found.add(item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE));
    review.run();
    assertThat(messages()).hasSize(1);
  }

  @Test
  void aMessageThatCannotBeWrittenKeepsNoDecisionBack() {
    run("A1", "S1");
    closeBatch();
    DueItem good = item("Model A", "worse", DueItem.Cause.COMPARISON_WORSE);
    DueItem.Facts f = good.facts();
    found.add(
        new DueItem(
            good.key(),
            good.kind(),
            good.severity(),
            good.cause(),
            good.model(),
            good.firmware(),
            // A difference that is no number: there are no words for it.
            new DueItem.Facts(
                f.otherFirmware(),
                f.purposes(),
                OptionalDouble.of(Double.NaN),
                f.interval(),
                f.limitPercent(),
                f.sessions(),
                f.wanted(),
                f.date(),
                f.course(),
                f.because(),
                f.source()),
            good.advice(),
            good.evidence()));
    review.run();
    assertThat(marks()).isZero();
    assertThat(due()).hasSize(1);
    assertThat(messages()).isEmpty();
    found.set(0, good);
    judgeAgain();
    assertThat(messages()).hasSize(1);
  }

  @Test
  void theRealJudgesWordIsKeptAsItWasGivenAndJudgingAgainAddsNothing() {
    database.change(
        tx -> {
          var course = Samples.put(tx, Samples.course("mill-lane", "v1"));
          for (int day = 0; day < 6; day++) {
            Instant start = Samples.T0.minus(Duration.ofDays(30 - day));
            Samples.run(tx, "A1", "1.0", "old " + day, start, course, 0.2 + 0.05 * (day % 3));
            Instant later = Samples.T0.plus(Duration.ofDays(day));
            Samples.run(tx, "A1", "2.0", "new " + day, later, course, 2.2 + 0.05 * (day % 3));
          }
        });
    closeBatch();
    Review real =
        new Review(
            database,
            Policy.defaults(),
            ZoneOffset.UTC,
            Digits.of(UnitChoice.METRIC, Locale.ENGLISH, ZoneOffset.UTC),
            Optional.of("https://milewarden.invalid"),
            Audience.nobody(ZoneOffset.UTC),
            woken::incrementAndGet);
    // Nothing more came for as long as a look waits.
    now = now.plus(Duration.ofHours(1));
    real.run();
    ModelId model = model("Model A");
    ModelJudgement kept = database.read(tx -> Judgements.find(tx, model)).orElseThrow();
    List<DueItems.Due> dueFirst = due();
    int looks = database.read(tx -> Judgements.looks(tx, model)).size();
    assertThat(kept.releases()).hasSize(2);
    assertThat(looks).isPositive();
    assertThat(messages()).hasSize(dueFirst.isEmpty() ? 0 : 1);
    database.change(tx -> Marks.mark(tx, model));
    real.run();
    ModelJudgement again = database.read(tx -> Judgements.find(tx, model)).orElseThrow();
    int looksAgain = database.read(tx -> Judgements.looks(tx, model)).size();
    assertThat(again).isEqualTo(kept);
    assertThat(looksAgain).isEqualTo(looks);
    assertThat(due()).isEqualTo(dueFirst);
    assertThat(messages()).hasSize(dueFirst.isEmpty() ? 0 : 1);
  }

  @Test
  void aVerdictAgesWithoutAnyRun() {
    run("A1", "S1");
    review.run();
    review.markOutdated();
    assertThat(marks()).isZero();
    now = now.plus(Duration.ofHours(25));
    review.markOutdated();
    assertThat(marks()).isEqualTo(1);
  }

  private void judgeAgain() {
    database.change(tx -> Marks.mark(tx, model("Model A")));
    review.run();
  }
}
