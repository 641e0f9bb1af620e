package milewarden.matching.line;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Position;
import milewarden.matching.Shapes;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.linearref.LengthIndexedLine;

/** The foot on the line against JTS (Eclipse Public / EDL licence), where one place is nearest. */
final class CourseLineTest {
  private static LineString drawn(ReferenceCourse course, CourseLine line) {
    Coordinate[] c = new Coordinate[course.line().positions().size()];
    for (int i = 0; i < c.length; i++) {
      Position p = course.line().positions().get(i);
      PlanePoint q = line.plane().project(p.latitudeDeg(), p.longitudeDeg());
      c[i] = new Coordinate(q.xM(), q.yM());
    }
    return new GeometryFactory().createLineString(c);
  }

  @Test
  void theFootIsTheOneThatJtsFinds() {
    SplittableRandom random = new SplittableRandom(11);
    for (ReferenceCourse course : new ReferenceCourse[] {Shapes.oval(), Shapes.hairpin()}) {
      CourseLine line = new CourseLine(course);
      LineString jts = drawn(course, line);
      LengthIndexedLine index = new LengthIndexedLine(jts);
      Foot foot = new Foot();
      for (int i = 0; i < 2000; i++) {
        double s = random.nextDouble(5, line.lengthM() - 5);
        Coordinate on = index.extractPoint(s);
        Coordinate p =
            new Coordinate(on.x + random.nextDouble(-5, 5), on.y + random.nextDouble(-5, 5));
        line.foot(p.x, p.y, s, 8, foot);
        double wanted = index.project(p);
        if (wanted < 1 || wanted > line.lengthM() - 1) continue;
        // JTS measures in the plane, whose scale is true to 1e-9 within 300 m of its middle.
        assertThat(foot.chainageM).as("%s at %s", course.slug(), s).isCloseTo(wanted, within(1e-5));
        assertThat(Math.abs(foot.offsetM))
            .isCloseTo(jts.distance(new GeometryFactory().createPoint(p)), within(1e-9));
      }
    }
  }

  @Test
  void headingsOfManyPlacesAreThoseOfEach() {
    SplittableRandom random = new SplittableRandom(12);
    for (ReferenceCourse course : new ReferenceCourse[] {Shapes.oval(), Shapes.hairpin()}) {
      CourseLine line = new CourseLine(course);
      double[] at = new double[3000];
      // Onwards and back, over vertices and seams and beyond the ends.
      for (int i = 0; i < at.length; i++)
        at[i] =
            i % 3 == 0 ? line.chainage(i % line.vertices()) : i - 500 - 40 * random.nextDouble();
      double[] headings = line.headingsAt(at);
      for (int i = 0; i < at.length; i++)
        assertThat(headings[i])
            .as("%s at %s", course.slug(), at[i])
            .isEqualTo(line.headingAt(at[i]));
    }
  }

  @Test
  void rightOfTheDirectionOfChainageIsPositive() {
    ReferenceCourse north =
        Shapes.course("north", false, new double[] {0, 0}, new double[] {0, 100});
    CourseLine line = new CourseLine(north);
    Foot foot = new Foot();
    PlanePoint start =
        line.plane()
            .project(
                north.line().positions().get(0).latitudeDeg(),
                north.line().positions().get(0).longitudeDeg());
    line.foot(start.xM() + 3, start.yM() + 40, 40, 3, foot);
    assertThat(foot.offsetM).isCloseTo(3, within(1e-3));
    line.foot(start.xM() - 3, start.yM() + 40, 40, 3, foot);
    assertThat(foot.offsetM).isCloseTo(-3, within(1e-3));
  }

  @Test
  void theEndsOfAnOpenCourseGoOnStraight() {
    ReferenceCourse north =
        Shapes.course("north", false, new double[] {0, 0}, new double[] {0, 100});
    CourseLine line = new CourseLine(north);
    Foot foot = new Foot();
    PlanePoint start =
        line.plane()
            .project(
                north.line().positions().get(0).latitudeDeg(),
                north.line().positions().get(0).longitudeDeg());
    line.foot(start.xM() + 2, start.yM() - 12, 0, 3, foot);
    assertThat(foot.chainageM).isCloseTo(-12, within(1e-4));
    assertThat(foot.offsetM).isCloseTo(2, within(1e-3));
    line.foot(start.xM() + 2, start.yM() + 117, 100, 3, foot);
    assertThat(foot.chainageM).isCloseTo(117, within(1e-4));
  }

  @Test
  void headingGoesOnOverLaps() {
    CourseLine line = new CourseLine(Shapes.oval());
    for (double s : new double[] {10, 100, 250, 390})
      for (int lap = -2; lap <= 3; lap++)
        // Anticlockwise: a full turn to the left a lap.
        assertThat(line.headingAt(s + lap * line.lengthM()))
            .isCloseTo(line.headingAt(s) - lap * 2 * Math.PI, within(1e-9));
    CourseLine eight = new CourseLine(Shapes.figureEight());
    assertThat(eight.headingAt(10 + eight.lengthM())).isCloseTo(eight.headingAt(10), within(1e-9));
  }

  @Test
  void aDenselyDrawnLineIsSearchedInPlacesThatLieOnIt() {
    ReferenceCourse dense = Shapes.oval(84.39, 36.8, 0.05);
    CourseLine line = new CourseLine(dense);
    SimpleLine simple = new SimpleLine(line);
    double[] chainages = new double[SimpleLine.MOST_CANDIDATES];
    double[] squares = new double[SimpleLine.MOST_CANDIDATES];
    Foot foot = new Foot();
    double[] xy = new double[2];
    for (double s = 0; s < line.lengthM(); s += 7.3) {
      simple.point(s, xy);
      // 0.25 m is what the simplified line may be off.
      line.foot(xy[0], xy[1], s, 3, foot);
      assertThat(Math.abs(foot.offsetM)).isLessThanOrEqualTo(0.26);
      assertThat(simple.candidates(xy[0], xy[1], 0, chainages, squares)).isPositive();
    }
  }
}
