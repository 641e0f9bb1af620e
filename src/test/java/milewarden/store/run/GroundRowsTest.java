package milewarden.store.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Id.RunId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.file.Tags;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PassEvidence.Exclusion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Evidence read by the course is the evidence that is read by the model, on both databases. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class GroundRowsTest {
  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private ReferenceCourse lane;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> Samples.T0);
    lane = database.write(tx -> Samples.put(tx, Samples.course("mill-lane", "v1")));
  }

  @AfterEach
  void close() {
    database.close();
  }

  private RunId run(ReferenceCourse course, String unit, String session, double... percents) {
    return database.write(
        tx -> Samples.run(tx, unit, "1.0", session, Samples.T0, course, percents));
  }

  private List<PassEvidence> onCourse(String slug) {
    return database.read(tx -> new GroundRows(tx, () -> {}).onCourse(slug, Engine.VERSION));
  }

  private List<PassEvidence> ofModel(String name) {
    return database.read(
        tx -> EvidenceRows.of(tx, Models.find(tx, name).orElseThrow().id(), Engine.VERSION));
  }

  private void control(String unit) {
    database.change(tx -> Models.control(tx, Models.findUnit(tx, unit).orElseThrow().id(), true));
  }

  @Test
  void aPassSaysTheSameByItsCourseAndByItsModel() {
    RunId run = run(lane, "A1", "S1", 2.0, 3.0, 4.0);
    run(lane, "A1", "S2", 1.0);
    database.change(
        tx -> {
          Exclusions.exclude(tx, run, 2, Exclusion.Reason.INTERRUPTED, "me", "a dog");
          Exclusions.exclude(tx, run, Tags.WHOLE, Exclusion.Reason.DEVICE_FAULT, "me", "wet");
          Exclusions.exclude(tx, run, 3, Exclusion.Reason.WRONG_COURSE, "me", "lost");
        });
    assertThat(onCourse("mill-lane")).hasSize(4).isEqualTo(ofModel("Model A"));
    assertThat(onCourse("mill-lane"))
        .extracting(p -> p.exclusion().map(Exclusion::words).orElse(""))
        .containsExactly("wet", "a dog", "wet", "");
  }

  @Test
  void allModelsOnTheCourseAndNoOthersAreRead() {
    ReferenceCourse other = database.write(tx -> Samples.put(tx, Samples.course("pier", "v1")));
    run(lane, "A1", "S1", 2.0);
    run(lane, "B1", "S1", 1.0);
    run(other, "A1", "S2", 0.5);
    assertThat(onCourse("mill-lane"))
        .extracting(PassEvidence::model)
        .contains("Model A", "Model B");
    assertThat(onCourse("mill-lane")).extracting(PassEvidence::session).containsOnly("S1");
    assertThat(onCourse("pier")).extracting(PassEvidence::session).containsExactly("S2");
  }

  @Test
  void onlyTheVersionInForceCounts() {
    run(lane, "A1", "S1", 2.0);
    ReferenceCourse second =
        database.write(tx -> Samples.put(tx, Samples.course("mill-lane", "v2")));
    assertThat(onCourse("mill-lane")).isEmpty();
    run(second, "A1", "S2", 1.0);
    assertThat(onCourse("mill-lane")).extracting(PassEvidence::session).containsExactly("S2");
  }

  @Test
  void controlUnitsAreReadFromAllCourses() {
    ReferenceCourse other = database.write(tx -> Samples.put(tx, Samples.course("pier", "v1")));
    run(lane, "C1", "S1", 0.1);
    run(other, "C1", "S2", 0.2);
    run(lane, "A1", "S1", 2.0);
    control("C1");
    List<PassEvidence> controls =
        database.read(tx -> new GroundRows(tx, () -> {}).ofControls(Engine.VERSION));
    assertThat(controls).extracting(PassEvidence::session).containsExactly("S1", "S2");
    assertThat(controls).allSatisfy(p -> assertThat(p.control()).isTrue());
  }

  @Test
  void aHeldRunIsNoEvidence() {
    RunId first = run(lane, "A1", "S1", 2.0);
    RunId copy = run(lane, "A1", "S2", 2.0);
    database.change(tx -> Runs.hold(tx, copy, java.util.Optional.of(first)));
    assertThat(onCourse("mill-lane")).extracting(PassEvidence::session).containsExactly("S1");
  }
}
