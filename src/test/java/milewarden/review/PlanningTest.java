package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.report.PlanWords;
import milewarden.report.paper.FirmwareReport;
import milewarden.report.paper.ReportHtml;
import milewarden.store.Database;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.file.Contents;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Models;
import milewarden.store.run.PlaceRows;
import milewarden.units.UnitChoice;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.CampaignPlan.Planned;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.place.PlacedPass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

@ParameterizedClass
@EnumSource(TestStores.class)
final class PlanningTest {
  private static final Policy POLICY = Policy.defaults();
  private static final Digits DIGITS = Digits.of(UnitChoice.METRIC, ZoneOffset.UTC);

  // A version is its file's hash; so the capsule finds the file.
  private static final String VERSION = Contents.sha256(new byte[] {1, 2, 3});

  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
    run("2.0", "before");
  }

  @AfterEach
  void close() {
    database.close();
  }

  private void run(String firmware, String session) {
    database.change(
        tx ->
            Samples.run(
                tx,
                "A1",
                firmware,
                session,
                Samples.T0,
                Samples.put(tx, Samples.course("mill-lane", VERSION)),
                1.0,
                1.2));
  }

  private Models.Model model() {
    return database.read(tx -> Models.find(tx, "Model A")).orElseThrow();
  }

  private static Planning.Wish wish(String by, Gait gait) {
    return new Planning.Wish(
        "2.1",
        "2.0",
        List.of(new Planned("mill-lane", Carriage.FIXED, gait)),
        List.of(),
        CampaignPlan.Stop.AT_THE_LAST_LOOK,
        "",
        by);
  }

  private Optional<Planning.Why> plan(Planning.Wish wish) {
    return Planning.plan(database, model(), wish, POLICY)
        .fold(done -> Optional.empty(), no -> Optional.of(no.why()));
  }

  private Planning.Held held() {
    return database.read(tx -> Planning.held(tx, model().id(), "2.1", POLICY)).orElseThrow();
  }

  @Test
  void aPlanMayBeReplacedUntilTheFirstFileAndTheEarlierOnesStay() {
    assertThat(plan(wish("Ann", Gait.RUN))).isEmpty();
    now = now.plusSeconds(60);
    assertThat(plan(wish("Ben", Gait.WALK))).isEmpty();
    assertThat(held().now().plan().by()).isEqualTo("Ben");
    assertThat(held().now().plan().at()).isEqualTo(now);
    assertThat(held().earlier()).extracting(CampaignPlan::by).containsExactly("Ann");
    assertThat(held().now().lockedAt()).isEmpty();
  }

  @Test
  void theFirstFileLocksItAndWhatIsDoneOtherwiseIsSaid() {
    plan(wish("Ann", Gait.RUN));
    now = now.plusSeconds(60);
    run("2.1", "after");
    assertThat(held().now().lockedAt()).contains(now);
    assertThat(plan(wish("Ben", Gait.WALK))).contains(Planning.Why.LOCKED);
    assertThat(held().now().plan().by()).isEqualTo("Ann");
    // It was walked, not run.
    assertThat(held().now().deviations())
        .extracting(PlanOnRecord.Deviation::what)
        .containsExactly(
            PlanOnRecord.What.CONDITION_NOT_PLANNED, PlanOnRecord.What.CONDITION_NOT_RUN);
  }

  @Test
  void aPlanMadeAfterTheFirstFileIsRefused() {
    run("2.1", "after");
    assertThat(plan(wish("Ann", Gait.RUN))).contains(Planning.Why.LOCKED);
  }

  @Test
  void aPlanWithoutANameIsRefused() {
    assertThat(plan(wish(" ", Gait.RUN))).contains(Planning.Why.NO_NAME);
  }

  private Verdicts.OnRecord published() {
    plan(wish("Ann", Gait.RUN));
    now = now.plusSeconds(60);
    run("2.1", "after");
    return new Publishing(database, POLICY, ZoneOffset.UTC, () -> {})
        .publish(model().id(), "2.1", "It reads long.", Optional.empty(), "Ben")
        .fold(
            done -> database.read(tx -> Verdicts.find(tx, done.id())).orElseThrow(),
            refused -> {
              throw new AssertionError(refused.sentence());
            });
  }

  @Test
  void thePublishedVerdictKeepsThePlanAndWhatWasDoneOtherwise() {
    Verdicts.OnRecord verdict = published();
    PlanOnRecord kept = verdict.verdict().plan().orElseThrow();
    assertThat(kept.plan()).isEqualTo(held().now().plan());
    assertThat(kept.lockedAt()).contains(now);
    // One session of twelve, walked and not run.
    assertThat(kept.deviations())
        .extracting(PlanOnRecord.Deviation::what)
        .containsExactly(
            PlanOnRecord.What.CONDITION_NOT_PLANNED,
            PlanOnRecord.What.CONDITION_NOT_RUN,
            PlanOnRecord.What.STOPPED_EARLY);
    // What comes later changes nothing of it.
    now = now.plusSeconds(60);
    database.change(
        tx ->
            Samples.run(
                tx,
                "A2",
                "2.1",
                "later",
                Samples.T0,
                Samples.put(tx, Samples.course("mill-lane", VERSION)),
                1.0));
    assertThat(database.read(tx -> Verdicts.find(tx, verdict.id())).orElseThrow().verdict().plan())
        .contains(kept);
  }

  @Test
  void aDamagedVerdictIsNamedAndCanBeTakenBackAndNoOtherIsPublished() {
    Verdicts.OnRecord verdict = published();
    database.change(
        tx ->
            tx.update("update verdict set record = '{torn' where id = :id")
                .bind("id", verdict.id())
                .execute());
    assertThat(held().now().deviations())
        .filteredOn(d -> d.what() == PlanOnRecord.What.VERDICT_UNREAD)
        .extracting(d -> PlanWords.of(d, DIGITS))
        .containsExactly(
            "Whether verdict 1 was published before the plan was at its end is not known: its stored"
                + " record can't be read.");
    assertThat(held().now().deviations())
        .extracting(PlanOnRecord.Deviation::what)
        .doesNotContain(PlanOnRecord.What.STOPPED_EARLY);
    Publishing publishing = new Publishing(database, POLICY, ZoneOffset.UTC, () -> {});
    String refused =
        publishing
            .publish(
                model().id(),
                "2.1",
                "Again.",
                Optional.of(PublishedVerdict.Reason.NEW_EVIDENCE),
                "Ben")
            .fold(done -> "", Publication.Refused::sentence);
    assertThat(refused)
        .contains("can't be read of verdict 1 on Model A", "backup that verifies")
        .isEqualTo(database.read(tx -> Publishing.impediment(tx, model().id())).orElseThrow());
    assertThat(
            publishing
                .withdraw(verdict.id(), "Its figures are lost.", "Ben")
                .<Boolean>fold(done -> true, no -> false))
        .isTrue();
    assertThat(database.read(tx -> Verdicts.line(tx, verdict.id())).orElseThrow().stands())
        .isFalse();
  }

  @Test
  void reportAndCapsuleSayWhatWasDoneOtherwise() throws IOException {
    Verdicts.OnRecord verdict = published();
    new Review(
            database,
            POLICY,
            ZoneOffset.UTC,
            DIGITS,
            Optional.empty(),
            Audience.nobody(ZoneOffset.UTC),
            () -> {})
        .run();
    String said = "Planned, and not run so far: mill-lane, ";
    FirmwareReport report =
        database.read(tx -> Reporting.of(tx, verdict, POLICY, false, DIGITS)).orElseThrow();
    assertThat(ReportHtml.of(report)).contains("Planned by Ann", said);
    assertThat(Reporting.json(report)).contains("Planned by Ann", said);
    ByteArrayOutputStream archive = new ByteArrayOutputStream();
    assertThat(database.<Boolean>read(tx -> CapsuleFile.write(tx, verdict.id(), archive))).isTrue();
    Map<String, String> files = unzipped(archive.toByteArray());
    assertThat(files.get("README.txt")).contains("Done otherwise than planned:\n  ", said);
    assertThat(files.get("verdict.json")).contains("STOPPED_EARLY");
    assertThat(files.get("contents.json")).contains("STOPPED_EARLY");
  }

  private static Map<String, String> unzipped(byte[] archive) throws IOException {
    Map<String, String> files = new HashMap<>();
    try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(archive))) {
      for (ZipEntry e = zip.getNextEntry(); e != null; e = zip.getNextEntry())
        files.put(e.getName(), new String(zip.readAllBytes(), StandardCharsets.UTF_8));
    }
    return files;
  }

  /** The store hands out the excess by place as the engine kept it. */
  @Test
  void passesComeWithTheirExcessByPlace() {
    run("2.1", "after");
    List<PlacedPass> passes =
        database.read(
            tx -> PlaceRows.of(tx, model().id(), "2.1", "2.0", milewarden.accuracy.Engine.VERSION));
    assertThat(passes).hasSize(4);
    List<Double> kept = Samples.pass(1, Samples.T0, 1.0).excessPer10m();
    assertThat(passes.get(0).excessPer10m()).hasSameSizeAs(kept);
    for (int i = 0; i < kept.size(); i++)
      // The store counts excess in steps of 0.1 mm.
      assertThat(passes.get(0).excessPer10m().get(i))
          .isCloseTo(kept.get(i), org.assertj.core.api.Assertions.within(5.1e-5));
  }
}
