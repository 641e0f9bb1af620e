package milewarden.simulator.campaign;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.SkyView;
import milewarden.course.StandardTrack;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;

/** The three courses of the invented campaign. They lie in the open sea: no place is meant. */
final class Ground {
  private static final Position LOOP_AT = new Position(46.5000, -31.5000);
  private static final Position CUT_AT = new Position(46.5300, -31.4600);
  private static final Position OVAL_AT = new Position(46.4800, -31.5400);
  // Vertices of a bend drawn by hand from an aerial picture, no source: every two metres.
  private static final double EDGE_M = 2;

  private Ground() {}

  /** A closed loop of about a kilometre with six bends, each of 25 m. */
  static ReferenceCourse loop(LocalDate measuredOn) {
    List<double[]> corners =
        List.of(
            new double[] {-160, -90},
            new double[] {150, -90},
            new double[] {150, 40},
            new double[] {20, 40},
            new double[] {20, 130},
            new double[] {-160, 130});
    return course(
        "ondry-loop",
        "Ondry Loop",
        true,
        InventedCourse.rounded(LOOP_AT, corners, 25, EDGE_M, true),
        Method.WHEEL,
        measuredOn);
  }

  /** An open path of about a kilometre with two gentle bends, run out and back. */
  static ReferenceCourse cut(LocalDate measuredOn) {
    List<double[]> corners =
        List.of(
            new double[] {0, 0},
            new double[] {330, 60},
            new double[] {640, -40},
            new double[] {1000, 30});
    return course(
        "ferrin-cut",
        "Ferrin Cut",
        false,
        InventedCourse.rounded(CUT_AT, corners, 120, EDGE_M, false),
        Method.CALIBRATED_BICYCLE,
        measuredOn);
  }

  /** A standard 400 m track, lane 1. */
  static ReferenceCourse oval(LocalDate measuredOn) {
    StandardTrack track = new StandardTrack(OVAL_AT, 12, 1);
    return course(
        "kesp-oval",
        "Kesp Oval",
        true,
        track.line(116).positions(),
        Method.STANDARD_TRACK,
        measuredOn);
  }

  private static ReferenceCourse course(
      String slug,
      String name,
      boolean closed,
      List<Position> positions,
      Method method,
      LocalDate measuredOn) {
    Polyline line = new Polyline(positions);
    // The wheel reads a little more than the drawn line, as on the ground: no source.
    double measured = Math.rint(line.lengthM() * 1.0002 * 100) / 100;
    if (method == Method.STANDARD_TRACK) measured = 400.0;
    return new ReferenceCourse(
        new CourseSlug(slug),
        "",
        name,
        closed,
        line,
        List.of(),
        measured,
        // DOMAIN.md section 5: an example budget comes to 0.063 %; a little better here.
        Math.rint(0.0005 * measured * 100) / 100,
        Optional.of(measuredOn),
        "Ilva Brandrose",
        method,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        List.of(),
        OptionalDouble.empty(),
        "asphalt",
        SkyView.OPEN,
        "Invented for the demo; it lies in the open sea.",
        Map.of());
  }
}
