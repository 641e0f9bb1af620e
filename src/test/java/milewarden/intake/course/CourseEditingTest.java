package milewarden.intake.course;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import milewarden.course.CourseRead;
import milewarden.course.CourseSlug;
import milewarden.course.ReferenceCourse;
import milewarden.course.StandardTrack;
import milewarden.course.TrackCourse;
import milewarden.format.CourseFile;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.report.page.course.MeasureForm;
import milewarden.store.file.Contents;
import milewarden.store.run.Courses;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class CourseEditingTest {
  private static final Instant NOW = Instant.parse("2026-05-12T07:00:00Z");
  private static final ReferenceCourse TRACK =
      TrackCourse.of(
          new StandardTrack(new Position(10, 20), 0, 1), 0, new CourseSlug("oval"), "Oval", 0.4);

  @TempDir private Path folder;
  private final AtomicInteger woken = new AtomicInteger();
  private CourseEditing editing;
  private Courses.Known known;

  @BeforeEach
  void aCourseInForce() throws IOException {
    Path file = Files.writeString(folder.resolve("oval.geojson"), CourseFile.write(TRACK));
    editing =
        new CourseEditing(folder, InstantSource.fixed(NOW), ZoneOffset.UTC, woken::incrementAndGet);
    known = new Courses.Known(read(file), "oval.geojson", true, NOW, List.of());
  }

  private static ReferenceCourse read(Path file) throws IOException {
    return CourseFile.read(Files.readAllBytes(file))
        .fold(
            CourseRead.Usable::course,
            bad -> {
              throw new AssertionError(bad.toString());
            });
  }

  private List<String> files() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.map(f -> f.getFileName().toString()).sorted().toList();
    }
  }

  private static MeasureForm form(String pass) {
    MeasureForm.Ride ride = new MeasureForm.Ride("", "0", "5000", "", "14", "");
    return new MeasureForm(
        Map.of("method", "wheel", "calibration_m", "500", "measured_by", "A. Walker"),
        Map.of(
            "before",
            List.of(ride, ride),
            "pass",
            List.of(new MeasureForm.Ride("", "0", pass, "", "14", ""))));
  }

  @Test
  void aTrialWritesNothing() throws IOException {
    byte[] before = Files.readAllBytes(folder.resolve("oval.geojson"));
    Attempt attempt = editing.measure(known.course(), form("4001"));
    // 5,000 counts are 500 m, so 4,001 are 400.1 m.
    assertThat(attempt.next().orElseThrow().measuredLengthM()).isCloseTo(400.1, within(1e-9));
    assertThat(Files.readAllBytes(folder.resolve("oval.geojson"))).isEqualTo(before);
    assertThat(woken).hasValue(0);
  }

  @Test
  void aVersionReplacesTheFileAsAWholeWithAuthorReasonAndDay() throws IOException {
    ReferenceCourse next = editing.measure(known.course(), form("4001")).next().orElseThrow();
    CourseEditing.Kept kept = editing.keep(known, next, "B. Runner", "wheeled after the new kerb");
    assertThat(kept.written()).as(kept.sentence()).isTrue();
    ReferenceCourse inFolder = read(folder.resolve("oval.geojson"));
    assertThat(inFolder.measuredLengthM()).isCloseTo(400.1, within(1e-9));
    assertThat(inFolder.change().orElseThrow().author()).isEqualTo("B. Runner");
    assertThat(inFolder.change().orElseThrow().on()).isEqualTo(LocalDate.of(2026, 5, 12));
    assertThat(inFolder.version()).isNotEqualTo(known.course().version());
    assertThat(files()).as("no part is left behind").containsExactly("oval.geojson");
    assertThat(woken).hasValue(1);
    assertThat(CourseEditing.budgetOf(inFolder).orElseThrow().lengthM())
        .isCloseTo(400.1, within(1e-9));
  }

  @Test
  void whatWasChangedInTheFolderMeanwhileIsNotOverwritten() throws IOException {
    ReferenceCourse next = editing.measure(known.course(), form("4001")).next().orElseThrow();
    String theirs = CourseFile.write(TRACK) + " ";
    Files.writeString(folder.resolve("oval.geojson"), theirs);
    assertThat(editing.keep(known, next, "", "mine").written()).isFalse();
    assertThat(Files.readString(folder.resolve("oval.geojson"))).isEqualTo(theirs);
    Files.delete(folder.resolve("oval.geojson"));
    assertThat(editing.keep(known, next, "", "mine").sentence()).contains("no longer");
    assertThat(files()).isEmpty();
  }

  @Test
  void aVersionNeedsAReason() {
    assertThat(editing.keep(known, known.course(), "A", "  ").written()).isFalse();
    assertThat(woken).hasValue(0);
  }

  @Test
  void aMeasurementThatTheLineCantFitIsRefusedWithBothLengths() {
    Attempt attempt = editing.measure(known.course(), form("4100"));
    assertThat(attempt.next()).isEmpty();
    assertThat(attempt.problems()).singleElement().asString().contains("410.00 m", "0.5 %");
    assertThat(attempt.budget()).as("the sheet itself is fine").isPresent();
  }

  @Test
  void aVertexIsTakenInDegreesOrInMetresFromTheMiddle() {
    List<Position> old = known.course().line().positions();
    StringBuilder text = new StringBuilder();
    for (Position p : old.subList(1, old.size() - 1))
      text.append(p.latitudeDeg()).append(", ").append(p.longitudeDeg()).append('\n');
    // The finish lies 36.80 m east and 42.195 m north of the middle; half a metre out is drawn.
    Attempt attempt = editing.draw(known.course(), "m 37.30 42.195\n" + text, "");
    ReferenceCourse next = attempt.next().orElseThrow();
    assertThat(next.line().positions()).hasSameSizeAs(old);
    Position first = next.line().positions().get(0);
    double off =
        Geodesics.lengthM(
            first.latitudeDeg(),
            first.longitudeDeg(),
            old.get(0).latitudeDeg(),
            old.get(0).longitudeDeg());
    assertThat(off).isCloseTo(0.5, within(0.001));
    assertThat(next.line().positions().subList(1, old.size() - 1))
        .as("what nobody touched stays to the digit")
        .isEqualTo(old.subList(1, old.size() - 1));
    assertThat(next.line().positions().get(old.size() - 1)).isEqualTo(first);
  }

  @Test
  void badVerticesAndMarksAreNamedByTheirLine() {
    Attempt attempt =
        editing.draw(
            known.course(), "10.1, 20.1\nsomewhere\n91, 20\n", "control, 10, 20, far\nbench, 1, 2");
    assertThat(attempt.next()).isEmpty();
    assertThat(attempt.problems())
        .hasSize(4)
        .anyMatch(p -> p.startsWith("Vertex on line 2 is not understood: somewhere."))
        .anyMatch(p -> p.startsWith("Vertex on line 3"))
        .anyMatch(p -> p.startsWith("Mark on line 1"))
        .anyMatch(p -> p.startsWith("Mark on line 2"));
    assertThat(editing.draw(known.course(), "", "").problems()).isNotEmpty();
  }

  @Test
  void aSheetComesBackFromTheFormsCsv() {
    MeasureForm form = form("4001");
    byte[] csv = SheetForms.csv(form).getBytes(StandardCharsets.UTF_8);
    MeasureForm again = SheetForms.csv(csv).form();
    assertThat(editing.workOut(again)).isEqualTo(editing.workOut(form));
    assertThat(editing.workOut(form("4OO1")).problems())
        .singleElement()
        .asString()
        .startsWith("Pass 1: ");
  }

  @Test
  void theBytesInTheFolderAreTheVersion() throws IOException {
    assertThat(Contents.sha256(Files.readAllBytes(folder.resolve("oval.geojson"))))
        .isEqualTo(known.course().version());
  }
}
