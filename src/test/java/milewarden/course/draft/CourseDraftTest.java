package milewarden.course.draft;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.StandardTrack;
import milewarden.format.CourseFile;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import milewarden.units.Length;
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The simulator is the oracle: it knows the line that was walked. */
final class CourseDraftTest {
  private static final Position SEA = new Position(46.5, -31.5);
  private static final Receiver NOISY = Receiver.PERFECT.withNoise(2.5, 20, 0.3);
  private static final ReferenceCourse LAP =
      InventedCourse.of("lap", "lap", true, new StandardTrack(SEA, 30, 1).line(100).positions());
  private static final ReferenceCourse STRAIGHT =
      InventedCourse.straight("straight", SEA, 63, 1000);

  private static List<Position> recorded(Walk walk, Receiver receiver, long seed) {
    Track t = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track();
    List<Position> positions = new ArrayList<>();
    for (int i = 0; i < t.size(); i++)
      positions.add(new Position(t.latitudesDeg()[i], t.longitudesDeg()[i]));
    return positions;
  }

  private static DraftRequest request(double metres) {
    return DraftRequest.of(new CourseSlug("drafted"), "Drafted", new Length(metres));
  }

  private static CourseDraft drafted(DraftResult result) {
    return result.fold(
        d -> d.draft(),
        f -> {
          throw new AssertionError(f.reason() + " " + f.detail());
        });
  }

  private static DraftResult.Reason failed(DraftResult result) {
    return result.fold(
        d -> {
          throw new AssertionError(d.draft().toString());
        },
        f -> f.reason());
  }

  /** The largest distance of the drafted line's positions from the true line, metres. */
  private static double farthestM(ReferenceCourse draft, ReferenceCourse truth) {
    LocalPlane plane = LocalPlane.at(truth.line().middle());
    List<PlanePoint> line = new ArrayList<>();
    for (Position p : truth.line().positions())
      line.add(plane.project(p.latitudeDeg(), p.longitudeDeg()));
    double worst = 0;
    for (Position p : draft.line().positions()) {
      PlanePoint q = plane.project(p.latitudeDeg(), p.longitudeDeg());
      double nearest = Double.MAX_VALUE;
      for (int i = 1; i < line.size(); i++)
        nearest = Math.min(nearest, toSegment(q, line.get(i - 1), line.get(i)));
      worst = Math.max(worst, nearest);
    }
    return worst;
  }

  private static double toSegment(PlanePoint p, PlanePoint a, PlanePoint b) {
    double dx = b.xM() - a.xM();
    double dy = b.yM() - a.yM();
    double t = ((p.xM() - a.xM()) * dx + (p.yM() - a.yM()) * dy) / (dx * dx + dy * dy);
    t = Math.max(0, Math.min(1, t));
    return Math.hypot(p.xM() - a.xM() - t * dx, p.yM() - a.yM() - t * dy);
  }

  @Test
  void aPerfectTrackGivesTheLineItself() {
    List<Position> track = recorded(Walk.of(LAP), Receiver.PERFECT, 1);
    CourseDraft draft = drafted(CourseDraft.from(track, request(LAP.referenceM())));
    assertThat(draft.course().closed()).isTrue();
    assertThat(draft.traversals()).isEqualTo(1);
    assertThat(farthestM(draft.course(), LAP)).isLessThan(1);
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6})
  void aNoisyLapGivesAUsableCourseNearTheLine(long seed) {
    List<Position> track = recorded(Walk.of(LAP), NOISY, seed);
    CourseDraft draft = drafted(CourseDraft.from(track, request(LAP.referenceM())));
    assertThat(draft.course().closed()).isTrue();
    assertThat(draft.course().scale()).isCloseTo(1, within(0.005));
    // Three sigma of the noise, and the rounding of the bends by the smoothing.
    assertThat(farthestM(draft.course(), LAP)).isLessThan(10);
    String file = CourseFile.write(draft.withSource("ab12").course());
    ReferenceCourse read =
        CourseFile.read(file.getBytes(StandardCharsets.UTF_8))
            .fold(
                u -> u.course(),
                r -> {
                  throw new AssertionError(r.issues().toString());
                });
    assertThat(read.isDraftedFrom("ab12")).isTrue();
  }

  @Test
  void severalLapsAreAveraged() {
    List<Position> track = recorded(Walk.of(LAP).withLaps(4), NOISY, 8);
    CourseDraft draft = drafted(CourseDraft.from(track, request(LAP.referenceM())));
    assertThat(draft.traversals()).isEqualTo(4);
    assertThat(draft.course().closed()).isTrue();
    assertThat(farthestM(draft.course(), LAP)).isLessThan(8);
  }

  @Test
  void anOpenCourseWalkedThereAndBackIsFolded() {
    List<Position> track = recorded(Walk.of(STRAIGHT).withLaps(2), NOISY, 8);
    CourseDraft draft = drafted(CourseDraft.from(track, request(1000)));
    assertThat(draft.traversals()).isEqualTo(2);
    assertThat(draft.course().closed()).isFalse();
    assertThat(farthestM(draft.course(), STRAIGHT)).isLessThan(10);
  }

  @Test
  void standingStillAtTheStartDoesNotCount() {
    List<Position> track = recorded(Walk.of(STRAIGHT).withStanding(120), NOISY, 3);
    CourseDraft draft = drafted(CourseDraft.from(track, request(1000)));
    assertThat(draft.traversals()).isEqualTo(1);
    assertThat(draft.course().scale()).isCloseTo(1, within(0.005));
  }

  @Test
  void aLengthThatTheTrackDoesNotReachIsRefused() {
    List<Position> track = recorded(Walk.of(STRAIGHT), Receiver.PERFECT, 1);
    assertThat(failed(CourseDraft.from(track, request(1010))))
        .isEqualTo(DraftResult.Reason.PATH_SHORTER);
  }

  @Test
  void aLengthMuchShorterThanTheTrackIsRefused() {
    List<Position> track = recorded(Walk.of(STRAIGHT), Receiver.PERFECT, 1);
    assertThat(failed(CourseDraft.from(track, request(900))))
        .isEqualTo(DraftResult.Reason.PATH_LONGER);
  }

  @Test
  void aLoopThatDoesNotCloseIsRefused() {
    DraftRequest open = request(1000);
    DraftRequest loop =
        new DraftRequest(
            open.slug(),
            open.name(),
            open.measured(),
            Optional.empty(),
            Method.WHEEL,
            Optional.empty(),
            "",
            Optional.of(true));
    List<Position> track = recorded(Walk.of(STRAIGHT), Receiver.PERFECT, 1);
    assertThat(failed(CourseDraft.from(track, loop))).isEqualTo(DraftResult.Reason.NOT_A_LOOP);
  }

  @Test
  void aTrackThatStandsStillIsRefused() {
    assertThat(failed(CourseDraft.from(Collections.nCopies(500, SEA), request(400))))
        .isEqualTo(DraftResult.Reason.TOO_FEW_FIXES);
  }

  @Test
  void aQuarterMileIs1320Feet() {
    // Common practice, no source: 0.25 mi x 5,280 ft.
    Length quarter = Length.parse("0.25 mi").orElseThrow();
    assertThat(quarter.in(LengthUnit.FOOT)).isCloseTo(1320, within(1e-9));
    assertThat(quarter.metres()).isCloseTo(402.336, within(1e-9));
  }

  /** Mean distance of a drafted line from the true one, metres. */
  private static double meanOffM(ReferenceCourse draft, ReferenceCourse truth) {
    return draft.line().positions().stream()
        .mapToDouble(
            p -> {
              List<Position> twice = List.of(p, p);
              return farthestM(truth.drawn(new Polyline(twice), List.of()), truth);
            })
        .average()
        .orElseThrow();
  }

  @Test
  void severalWalksInBothDirectionsAndFromAnyStartAreAveraged() {
    List<List<Position>> walks = new ArrayList<>();
    double apart = 0;
    for (int seed = 1; seed <= 8; seed++) {
      List<Position> walk = recorded(Walk.of(LAP), NOISY, seed);
      // Another start on the loop, and every other one the other way round.
      List<Position> turned = new ArrayList<>(walk);
      Collections.rotate(turned, -seed * walk.size() / 11);
      turned.add(turned.get(0));
      if (seed % 2 == 0) Collections.reverse(turned);
      walks.add(turned);
      apart += meanOffM(drafted(CourseDraft.from(walk, request(LAP.referenceM()))).course(), LAP);
    }
    CourseDraft draft =
        drafted(CourseDraft.from(walks, request(LAP.referenceM()), CourseDraft.TOLERANCE_M));
    assertThat(draft.walks()).isEqualTo(8);
    assertThat(draft.traversals()).isEqualTo(8);
    // Independent errors of eight walks shrink by root 8 = 2.8 in the mean; smoothing and
    // simplifying keep some of it.
    assertThat(meanOffM(draft.course(), LAP)).isLessThan(apart / 8 / 1.8);
  }

  @Test
  void aDrawnLineKeepsItsVertices() {
    List<Position> line = LAP.line().positions();
    CourseDraft draft = drafted(CourseDraft.drawn(line, request(LAP.referenceM()), 0));
    assertThat(draft.course().closed()).isTrue();
    assertThat(draft.smoothingM()).isZero();
    assertThat(draft.course().line().positions()).hasSameSizeAs(line);
    // Degrees are written to the millimetre.
    assertThat(farthestM(draft.course(), LAP)).isLessThan(0.002);
    assertThat(failed(CourseDraft.drawn(line, request(1.006 * LAP.referenceM()), 0)))
        .isEqualTo(DraftResult.Reason.PATH_SHORTER);
    assertThat(failed(CourseDraft.drawn(line, request(0.994 * LAP.referenceM()), 0)))
        .isEqualTo(DraftResult.Reason.PATH_LONGER);
  }

  @Test
  void aDraftNamesEveryRecordingThatItWasMadeFrom() {
    CourseDraft draft =
        drafted(
                CourseDraft.from(
                    recorded(Walk.of(LAP), Receiver.PERFECT, 1), request(LAP.referenceM())))
            .withSource("ab12")
            .withSource("cd34");
    assertThat(draft.course().isDraftedFrom("ab12")).isTrue();
    assertThat(draft.course().isDraftedFrom("cd34")).isTrue();
    assertThat(draft.course().isDraftedFrom("ef56")).isFalse();
  }
}
