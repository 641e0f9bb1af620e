package milewarden.store.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.List;
import milewarden.accuracy.Engine;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.ShownRun;
import milewarden.accuracy.TrackMeasurement;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.file.Contents;
import milewarden.store.file.SheetRows;
import milewarden.store.file.Tags;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Recomputations;
import milewarden.store.judged.Recomputations.Because;
import milewarden.units.LengthUnit;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PassEvidence.Exclusion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Courses, runs, results and the evidence made of them, on both databases. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class ResultRowsTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private ReferenceCourse course;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> Samples.T0);
    course = database.write(tx -> Samples.put(tx, Samples.course("mill-lane", "v1")));
  }

  @AfterEach
  void close() {
    database.close();
  }

  private RunId run(String unit, String firmware, String session, double... percents) {
    return database.write(
        tx -> Samples.run(tx, unit, firmware, session, Samples.T0, course, percents));
  }

  private ModelId model(String name) {
    return database.read(tx -> Models.find(tx, name)).orElseThrow().id();
  }

  @Test
  void aCourseComesBackWhole() {
    Courses.Known known = database.read(tx -> Courses.find(tx, course.slug())).orElseThrow();
    assertThat(known.course()).isEqualTo(course);
    assertThat(known.notices()).containsExactly("drawn by hand");
  }

  @Test
  void aNewVersionIsInForceAndTheOldOneKept() {
    ReferenceCourse second = Samples.course("mill-lane", "v2");
    boolean changed =
        database.write(
            tx -> Courses.put(tx, second, "m.geojson", Contents.pack(new byte[] {9}), List.of()));
    boolean again =
        database.write(
            tx -> Courses.put(tx, second, "m.geojson", Contents.pack(new byte[] {9}), List.of()));
    assertThat(changed).isTrue();
    assertThat(again).isFalse();
    List<ReferenceCourse> inForce = database.read(Courses::inForce);
    assertThat(inForce).containsExactly(second);
    List<Courses.Known> all = database.read(tx -> Courses.versions(tx, course.slug()));
    assertThat(all).hasSize(2);
  }

  @Test
  void aMeasurementComesBackWithItsSeries() {
    PassMeasurement pass = Samples.pass(1, Samples.T0, 2.0);
    RunId run = run("A1", "1.0", "S1", 2.0);
    Results.Measured found = database.read(tx -> Results.find(tx, run)).orElseThrow();
    TrackMeasurement expected = Samples.measurement(pass);
    assertThat(found.measurement().recording()).isEqualTo(expected.recording());
    assertThat(found.measurement().findings()).isEqualTo(expected.findings());
    assertThat(found.measurement().trackLengthM()).isEqualTo(expected.trackLengthM());
    PassMeasurement got = found.measurement().passes().get(0);
    assertThat(got.distances()).isEqualTo(pass.distances());
    assertThat(got.errors()).isEqualTo(pass.errors());
    assertThat(got.ladder()).isEqualTo(pass.ladder());
    assertThat(got.offset()).isEqualTo(pass.offset());
    assertThat(got.noise()).isEqualTo(pass.noise());
    assertThat(got.startedAt()).isEqualTo(pass.startedAt());
    assertThat(got.lapDetails()).isEqualTo(pass.lapDetails());
    assertThat(got.fingerprints()).isEqualTo(pass.fingerprints());
    // Half a step of the packing, and a rounding of the division.
    alike(got.excessPer10m(), pass.excessPer10m(), 0.000051);
    alike(got.profile().chainageM(), pass.profile().chainageM(), 0.0051);
    alike(got.profile().offsetM(), pass.profile().offsetM(), 0.0051);
    alike(got.profile().speedMps(), pass.profile().speedMps(), 0.0051);
    alike(got.profile().latitudeDeg(), pass.profile().latitudeDeg(), 0.51e-7);
    alike(got.profile().longitudeDeg(), pass.profile().longitudeDeg(), 0.51e-7);
  }

  @Test
  void whatAnEarlierEngineStoredIsReadWithoutWhatItDidNotKnow() {
    RunId run = run("A1", "1.0", "S1", 2.0);
    database.change(
        tx -> {
          String stored =
              tx.query("select detail from result").map(Row.as(r -> r.text("detail"))).one();
          ObjectNode old = Json.tree(stored);
          old.remove(List.of("ascent", "fingerprints"));
          ((ObjectNode) old.get("noise")).remove("uncertaintyM");
          ((ObjectNode) old.get("offset")).remove("uncertainty");
          old.put("ofAnotherEngine", 1);
          tx.update("update result set detail = :old").bind("old", Json.write(old)).execute();
        });
    PassMeasurement got =
        database.read(tx -> Results.find(tx, run)).orElseThrow().measurement().passes().get(0);
    PassMeasurement pass = Samples.pass(1, Samples.T0, 2.0);
    assertThat(got.ascent()).isEmpty();
    assertThat(got.fingerprints()).isEmpty();
    assertThat(got.noise().uncertaintyM()).isEmpty();
    assertThat(got.noise().observedM()).isEqualTo(pass.noise().observedM());
    assertThat(got.offset().uncertainty()).isEmpty();
    assertThat(got.offset().rmsM()).isEqualTo(pass.offset().rmsM());
    assertThat(got.ladder()).isEqualTo(pass.ladder());
  }

  private static void alike(List<Double> got, List<Double> expected, double step) {
    assertThat(got).hasSameSizeAs(expected);
    for (int i = 0; i < got.size(); i++)
      if (Double.isNaN(expected.get(i))) assertThat(got.get(i)).isNaN();
      else assertThat(got.get(i)).isCloseTo(expected.get(i), within(step));
  }

  @Test
  void measuringAgainWithTheSameVersionsReplaces() {
    RunId run = run("A1", "1.0", "S1", 2.0, 3.0);
    List<Results.Summary> before =
        database.read(tx -> Results.ofModel(tx, model("Model A"), Engine.VERSION));
    database.change(
        tx ->
            Results.put(
                tx,
                run,
                Engine.VERSION,
                course,
                Samples.measurement(Samples.pass(1, Samples.T0, 2.5)),
                Samples.SHOWN));
    List<Results.Summary> after =
        database.read(tx -> Results.ofModel(tx, model("Model A"), Engine.VERSION));
    assertThat(before).hasSize(2);
    assertThat(after).hasSize(1);
    assertThat(after.get(0).id()).isEqualTo(before.get(0).id());
    assertThat(after.get(0).errors().trackPercent()).hasValue(2.5);
  }

  @Test
  void anotherEngineVersionStandsBeside() {
    RunId run = run("A1", "1.0", "S1", 2.0);
    database.change(
        tx ->
            Results.put(
                tx,
                run,
                "next",
                course,
                Samples.measurement(Samples.pass(1, Samples.T0, 2.5)),
                MeasureOptions.NONE));
    List<Results.Summary> present = database.read(tx -> Results.ofRun(tx, run, Engine.VERSION));
    List<Results.Summary> next = database.read(tx -> Results.ofRun(tx, run, "next"));
    assertThat(present.get(0).errors().trackPercent()).hasValue(2.0);
    assertThat(next.get(0).errors().trackPercent()).hasValue(2.5);
    int none = database.write(tx -> Recomputations.queue(tx, "next", Because.ENGINE, ""));
    assertThat(none).isZero();
    int unmeasured = database.write(tx -> Recomputations.queue(tx, "third", Because.ENGINE, ""));
    assertThat(unmeasured).isEqualTo(1);
    int twice = database.write(tx -> Recomputations.queue(tx, "third", Because.ENGINE, ""));
    assertThat(twice).as("queued once").isZero();
  }

  @Test
  void aRunWithAShownDistanceAloneIsEvidence() {
    RunId run = run("A1", "1.0", "S1", 2.0);
    Runs.Run its = database.read(tx -> Runs.find(tx, run)).orElseThrow();
    SheetRows.Key key = new SheetRows.Key("S1", "A1", "9");
    Reading reading = new Reading(1.02, LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED);
    RunId shown =
        database.write(
            tx -> {
              RunId id = Runs.ofRow(tx, key, its.facts());
              Results.put(
                  tx,
                  id,
                  Engine.VERSION,
                  course,
                  ShownRun.measure(course, 1, reading),
                  Direction.REVERSE,
                  reading);
              return id;
            });
    RunId again = database.write(tx -> Runs.ofRow(tx, key, its.facts()));
    assertThat(again).isEqualTo(shown);
    List<PassEvidence> evidence =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION));
    assertThat(evidence).hasSize(2);
    PassEvidence pass = evidence.get(1);
    assertThat(pass.direction()).isEqualTo(Direction.REVERSE);
    assertThat(pass.errors().trackPercent()).isEmpty();
    // 1.02 km on 1,000 m, cut off at 0.01 km: from 2 to 3 percent long.
    assertThat(pass.errors().shownPercent().orElseThrow().low()).isCloseTo(2, within(1e-9));
    assertThat(pass.errors().shownPercent().orElseThrow().high()).isCloseTo(3, within(1e-9));
    assertThat(pass.displayStepM()).isCloseTo(10, within(1e-9));
    Results.Summary summary = database.read(tx -> Results.ofRun(tx, shown, Engine.VERSION)).get(0);
    assertThat(summary.distances().trackM()).isNaN();
    assertThat(summary.ladder().weaveM()).isNaN();
  }

  @Test
  void evidenceNamesItsConditionAndItsUncertainty() {
    run("A1", "1.0", "S1", 2.0);
    PassEvidence pass =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION)).get(0);
    assertThat(pass.model()).isEqualTo("Model A");
    assertThat(pass.unit()).isEqualTo("A1");
    assertThat(pass.firmware()).isEqualTo("1.0");
    assertThat(pass.session()).isEqualTo("S1");
    assertThat(pass.sessionStart()).isEqualTo(Samples.T0);
    assertThat(pass.condition().course()).isEqualTo("mill-lane");
    assertThat(pass.condition().courseVersion()).isEqualTo("v1");
    assertThat(pass.condition().site()).isEqualTo(course.skyView());
    // 0.5 m of 1,000 m.
    assertThat(pass.referenceStandardUncertaintyPercent()).isCloseTo(0.05, within(1e-12));
  }

  @Test
  void controlUnitsOfTheSameOutingsAreEvidenceToo() {
    run("A1", "1.0", "S1", 2.0);
    run("C1", "7", "S1", 0.1);
    run("C1", "7", "S2", 0.2);
    run("B1", "1.0", "S1", 1.0);
    database.change(tx -> Models.control(tx, Models.findUnit(tx, "C1").orElseThrow().id(), true));
    List<PassEvidence> evidence =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION));
    assertThat(evidence).extracting(PassEvidence::unit).containsExactly("A1", "C1");
    assertThat(evidence).extracting(PassEvidence::control).containsExactly(false, true);
    assertThat(evidence).extracting(PassEvidence::session).containsOnly("S1");
  }

  @Test
  void anExcludedPassStaysVisibleWithItsReason() {
    RunId run = run("A1", "1.0", "S1", 2.0, 3.0);
    database.change(
        tx -> Exclusions.exclude(tx, run, 2, Exclusion.Reason.INTERRUPTED, "me", "a dog"));
    List<PassEvidence> evidence =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION));
    assertThat(evidence.get(0).exclusion()).isEmpty();
    assertThat(evidence.get(1).exclusion().orElseThrow().words()).isEqualTo("a dog");
    database.change(tx -> Exclusions.lift(tx, run, 2, "me"));
    List<PassEvidence> lifted =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION));
    assertThat(lifted).allSatisfy(p -> assertThat(p.exclusion()).isEmpty());
    List<Exclusions.Excluded> history = database.read(tx -> Exclusions.of(tx, run));
    assertThat(history).singleElement().satisfies(x -> assertThat(x.liftedAt()).isPresent());
  }

  @Test
  void excludingTheWholeRunAndOneOfItsPassesCountsEachPassOnce() {
    RunId run = run("A1", "1.0", "S1", 2.0, 3.0);
    database.change(
        tx -> {
          Exclusions.exclude(tx, run, 1, Exclusion.Reason.INTERRUPTED, "me", "a dog");
          Exclusions.exclude(tx, run, Tags.WHOLE, Exclusion.Reason.DEVICE_FAULT, "me", "wet");
        });
    List<PassEvidence> evidence =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION));
    assertThat(evidence).hasSize(2).allSatisfy(p -> assertThat(p.exclusion()).isPresent());
  }

  @Test
  void aHeldRunIsNoEvidence() {
    RunId first = run("A1", "1.0", "S1", 2.0);
    RunId second = run("A1", "1.0", "S2", 2.0);
    List<Runs.Run> overlapping =
        database.read(
            tx -> {
              Runs.Run r = Runs.find(tx, second).orElseThrow();
              return Runs.overlapping(
                  tx, r.facts().unit(), Samples.T0.plusSeconds(600), Samples.T0.plusSeconds(900));
            });
    assertThat(overlapping).extracting(Runs.Run::id).containsExactly(first, second);
    database.change(tx -> Runs.hold(tx, second, java.util.Optional.of(first)));
    List<PassEvidence> evidence =
        database.read(tx -> EvidenceRows.of(tx, model("Model A"), Engine.VERSION));
    assertThat(evidence).hasSize(1);
  }

  @Test
  void aControlUnitsRunMarksTheModelsBesideIt() {
    run("A1", "1.0", "S1", 2.0);
    run("B1", "1.0", "S2", 2.0);
    RunId control = run("C1", "7", "S1", 0.1);
    database.change(
        tx -> {
          Models.control(tx, Models.findUnit(tx, "C1").orElseThrow().id(), true);
          while (Marks.count(tx) > 0)
            Marks.done(tx, Marks.claim(tx, java.time.Duration.ofSeconds(9)).orElseThrow());
          Marks.ofRun(tx, control);
        });
    List<ModelId> marked =
        database.write(
            tx -> {
              List<ModelId> all = new java.util.ArrayList<>();
              for (var m = Marks.claim(tx, java.time.Duration.ofSeconds(9));
                  m.isPresent();
                  m = Marks.claim(tx, java.time.Duration.ofSeconds(9))) all.add(m.get().model());
              return all;
            });
    assertThat(marked).containsExactlyInAnyOrder(model("Model A"), model("Model C"));
  }

  @Test
  void aUnitThatGoesToAnotherModelTakesItsRunsAlong() {
    run("A1", "1.0", "S1", 2.0);
    database.change(
        tx -> {
          Models.Model other = Models.named(tx, "Birch");
          Models.move(tx, Models.findUnit(tx, "A1").orElseThrow().id(), other.id());
        });
    List<PassEvidence> evidence =
        database.read(tx -> EvidenceRows.of(tx, model("Birch"), Engine.VERSION));
    assertThat(evidence).singleElement().satisfies(p -> assertThat(p.firmware()).isEqualTo("1.0"));
    List<Firmware.Known> releases = database.read(tx -> Firmware.of(tx, model("Birch")));
    assertThat(releases).extracting(Firmware.Known::version).containsExactly("1.0");
  }
}
