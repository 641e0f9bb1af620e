package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicInteger;
import milewarden.accuracy.Engine;
import milewarden.device.FirmwareRelease;
import milewarden.report.page.verdict.VerdictPage;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.ResultId;
import milewarden.store.Id.VerdictId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.judged.Capsules;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Recomputations;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.units.PercentRange;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.PublishedVerdict.Reason;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.replay.CapsuleContents;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Publishing and withdrawing on both databases, with figures that the test chose. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class PublishingTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0.plus(Duration.ofDays(10));
  private final AtomicInteger woken = new AtomicInteger();
  private Publishing publishing;
  private ModelId model;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
    publishing =
        new Publishing(database, Policy.defaults(), PublishingTest::judge, woken::incrementAndGet);
    database.change(
        tx -> {
          var course = Samples.put(tx, Samples.course("mill-lane", "v1"));
          Samples.run(tx, "A1", "1.0", "S1", Samples.T0, course, 1.0, 1.2);
          Samples.run(tx, "A1", "1.0", "S2", Samples.T0.plusSeconds(90_000), course, 1.4);
          while (Marks.count(tx) > 0)
            Marks.done(tx, Marks.claim(tx, Duration.ofSeconds(9)).orElseThrow());
        });
    model = database.read(tx -> Models.find(tx, "Model A")).orElseThrow().id();
  }

  @AfterEach
  void close() {
    database.close();
  }

  /** Session S1 alone counts; the figures are invented. */
  private static ModelJudgement judge(ModelHistory history, Instant at) {
    List<PassEvidence> passes =
        history.passes().stream().filter(p -> p.session().equals("S1")).toList();
    SessionFigure session =
        new SessionFigure(
            "S1",
            Samples.T0,
            LocalDate.parse("2026-05-12"),
            1.1,
            PercentRange.exactly(1.1),
            List.of(),
            List.of("A1"),
            2,
            passes.stream().map(PassEvidence::resultId).toList(),
            false);
    ReleaseJudgement release =
        new ReleaseJudgement(
            new FirmwareRelease("1.0", LocalDate.parse("2026-05-12"), true),
            Optional.of(Samples.T0),
            Optional.empty(),
            Optional.of(figures(Optional.empty())),
            List.of(figures(Optional.of(passes.get(0).condition()))),
            List.of(session),
            List.of(),
            Optional.empty(),
            0,
            0);
    return new ModelJudgement(
        history.model(),
        at,
        Engine.VERSION,
        List.of(release),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        Optional.empty());
  }

  private static ReleaseFigures figures(Optional<milewarden.verdict.Condition> condition) {
    return new ReleaseFigures(
        Source.TRACK,
        condition,
        1,
        1,
        1,
        2,
        1.1,
        PercentRange.exactly(1.1),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        1.1,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        0.05,
        true,
        ReleaseFigures.Sufficiency.PROVISIONAL,
        false);
  }

  private Publication publish(String words, Optional<Reason> reason) {
    return publishing.publish(model, "1.0", words, reason, "me");
  }

  private List<Verdicts.OnRecord> verdicts() {
    return database.read(tx -> Verdicts.of(tx, model));
  }

  private static String refusal(Publication publication) {
    return publication.fold(done -> "", Publication.Refused::sentence);
  }

  @Test
  void nobodyPublishesOrWithdrawsWithoutAName() {
    assertThat(refusal(publishing.publish(model, "1.0", "Reads well.", Optional.empty(), " ")))
        .contains("Say who you are");
    assertThat(verdicts()).isEmpty();
    publish("Reads well.", Optional.empty());
    assertThat(refusal(publishing.withdraw(verdicts().get(0).id(), "A mistake.", "")))
        .contains("Say who withdraws it");
    assertThat(verdicts().get(0).withdrawn()).isEmpty();
  }

  @Test
  void whatReplacedAVerdictIsSaidWhereItsRecordIsDamaged() {
    publish("Reads a little long.", Optional.empty());
    publish("Reads long.", Optional.of(Reason.ERROR_CORRECTED));
    Verdicts.OnRecord first = verdicts().get(0);
    VerdictPage.Successor whole =
        new VerdictPage.Successor(
            2,
            "1.0",
            verdicts().get(1).verdict().publishedAt(),
            Optional.of(Reason.ERROR_CORRECTED));
    assertThat(database.read(tx -> Reporting.fate(tx, first)).replacedBy()).contains(whole);
    database.change(
        tx -> tx.update("update verdict set record = '{torn' where number = 2").execute());
    assertThat(database.read(tx -> Reporting.fate(tx, first)).replacedBy())
        .contains(new VerdictPage.Successor(2, "1.0", whole.at(), Optional.empty()));
  }

  @Test
  void aVerdictNamesWhatItRestsOn() {
    publish(" Reads a little long. ", Optional.empty());
    PublishedVerdict verdict = verdicts().get(0).verdict();
    assertThat(verdict.number()).isEqualTo(1);
    assertThat(verdict.words()).isEqualTo("Reads a little long.");
    assertThat(verdict.units()).containsExactly("A1");
    assertThat(verdict.figures()).isEqualTo(figures(Optional.empty()));
    assertThat(verdict.courses())
        .containsExactly(new PublishedVerdict.CourseUsed("mill-lane", "v1"));
    assertThat(verdict.runs()).as("the passes of S1 alone").hasSize(2);
    assertThat(verdict.runs())
        .allSatisfy(
            run -> {
              assertThat(run.session()).isEqualTo("S1");
              assertThat(run.sha256()).hasSize(64);
            });
    assertThat(verdict.policy()).isEqualTo(Policy.defaults());
    assertThat(verdict.publishedAt()).isEqualTo(now);
    assertThat(verdicts().get(0).stands()).isTrue();
  }

  @Test
  void publishingHasTheModelJudgedAnew() {
    publish("Reads a little long.", Optional.empty());
    int marks = database.read(Marks::count);
    assertThat(marks).isEqualTo(1);
    assertThat(woken).hasValue(1);
  }

  @Test
  void aLaterVerdictSupersedesAndChangesNothingOfTheEarlier() {
    publish("First.", Optional.empty());
    PublishedVerdict first = verdicts().get(0).verdict();
    now = now.plus(Duration.ofDays(1));
    publish("Second.", Optional.of(Reason.ERROR_CORRECTED));
    List<Verdicts.OnRecord> all = verdicts();
    assertThat(all).hasSize(2);
    assertThat(all.get(0).verdict()).isEqualTo(first);
    assertThat(all.get(0).superseded()).isTrue();
    assertThat(all.get(0).stands()).isFalse();
    assertThat(all.get(1).stands()).isTrue();
    assertThat(all.get(1).verdict().replaces())
        .hasValue(new PublishedVerdict.Replaced(1, Reason.ERROR_CORRECTED));
  }

  @Test
  void aReasonThatIsNotSoIsRefusedAndNothingIsWritten() {
    publish("First.", Optional.empty());
    assertThat(refusal(publish("Second.", Optional.of(Reason.NEW_FIRMWARE))))
        .contains("Verdict 1 is on firmware 1.0 too");
    assertThat(refusal(publish("Second.", Optional.of(Reason.NEW_EVIDENCE))))
        .contains("rests on the same runs");
    assertThat(refusal(publish("Second.", Optional.of(Reason.REFERENCE_REVISED))))
        .contains("same versions of the courses");
    assertThat(refusal(publish("Second.", Optional.of(Reason.METHOD_REVISED))))
        .contains("same engine version and policy");
    assertThat(verdicts()).hasSize(1);
    Policy stricter = Samples.withPurpose(Policy.defaults(), "racing", 0.3, 0.6);
    new Publishing(database, stricter, PublishingTest::judge, () -> {})
        .publish(model, "1.0", "Second.", Optional.of(Reason.METHOD_REVISED), "me");
    assertThat(verdicts()).hasSize(2);
  }

  @Test
  void nothingIsPublishedWhileRunsAreMeasuredAnew() {
    database.change(tx -> Recomputations.queue(tx, "another", Recomputations.Because.ENGINE, ""));
    assertThat(refusal(publish("First.", Optional.empty()))).contains("being measured anew");
    assertThat(verdicts()).isEmpty();
  }

  @Test
  void whatAVerdictRestsOnIsFrozenWithIt() {
    publish("First.", Optional.empty());
    VerdictId id = verdicts().get(0).id();
    CapsuleContents contents = database.read(tx -> Capsules.find(tx, id)).orElseThrow();
    assertThat(contents.verdict()).isEqualTo(verdicts().get(0).verdict());
    assertThat(contents.passes()).as("both sessions' passes").hasSize(3);
    assertThat(contents.passes())
        .allSatisfy(
            p -> {
              assertThat(p.sha256()).hasSize(64);
              assertThat(p.options().orElseThrow().shown()).hasSize(1);
            });
    // The tester says something else of the runs later: the record does not move.
    database.change(
        tx ->
            Exclusions.exclude(
                tx,
                Results.how(tx, new ResultId(contents.passes().get(0).evidence().resultId()))
                    .orElseThrow()
                    .run(),
                0,
                PassEvidence.Exclusion.Reason.INTERRUPTED,
                "me",
                "a dog"));
    CapsuleContents later = database.read(tx -> Capsules.find(tx, id)).orElseThrow();
    assertThat(Capsules.first(contents, later)).isEmpty();
  }

  @Test
  void replacingWithoutAReasonIsRefusedAndNothingIsWritten() {
    publish("First.", Optional.empty());
    assertThat(refusal(publish("Second.", Optional.empty())))
        .contains("Verdict 1 on Model A stands")
        .contains("Say why it is replaced");
    assertThat(verdicts()).hasSize(1);
    assertThat(woken).hasValue(1);
  }

  @Test
  void aReleaseWithoutFiguresAndAVerdictWithoutWordsAreRefused() {
    assertThat(refusal(publishing.publish(model, "9.9", "Fine.", Optional.empty(), "me")))
        .contains("has no figures for firmware 9.9");
    assertThat(refusal(publish("  ", Optional.empty()))).contains("needs your words");
    assertThat(
            refusal(publishing.publish(new ModelId(999), "1.0", "Fine.", Optional.empty(), "me")))
        .contains("no such model");
    assertThat(verdicts()).isEmpty();
    assertThat(woken).hasValue(0);
  }

  @Test
  void aWithdrawnVerdictStaysReadableAndTheNextNeedsNoReason() {
    publish("First.", Optional.empty());
    VerdictId id = verdicts().get(0).id();
    assertThat(refusal(publishing.withdraw(id, " ", "me"))).contains("needs your words");
    publishing.withdraw(id, "The course was wrong.", "me");
    assertThat(refusal(publishing.withdraw(id, "Again.", "me"))).contains("already");
    Verdicts.OnRecord withdrawn = verdicts().get(0);
    assertThat(withdrawn.stands()).isFalse();
    assertThat(withdrawn.withdrawn().orElseThrow().words()).isEqualTo("The course was wrong.");
    assertThat(withdrawn.verdict().words()).isEqualTo("First.");
    publish("Second.", Optional.empty());
    assertThat(verdicts().get(1).verdict().number()).isEqualTo(2);
    assertThat(verdicts().get(1).verdict().replaces()).isEmpty();
  }
}
