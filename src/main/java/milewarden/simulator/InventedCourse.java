package milewarden.simulator;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.SkyView;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/**
 * Courses that lie nowhere on land, drawn from simple shapes. Shapes are given in metres east and
 * north of an origin and laid on the ellipsoid by azimuth and distance from it; their measured
 * length is the geodesic length of the line unless another is given.
 */
public final class InventedCourse {
  private InventedCourse() {}

  /** An open course: a straight line from {@code from} in one direction. */
  public static ReferenceCourse straight(
      String slug, Position from, double azimuthDeg, double lengthM) {
    List<Position> line = List.of(from, Geodesics.direct(from, azimuthDeg, lengthM));
    return of(slug, slug, false, line);
  }

  /** A closed course: a circle run clockwise from its northernmost point, with this many edges. */
  public static ReferenceCourse circle(String slug, Position centre, double radiusM, int edges) {
    List<Position> line = new ArrayList<>();
    for (int i = 0; i < edges; i++) line.add(Geodesics.direct(centre, 360.0 * i / edges, radiusM));
    line.add(line.get(0));
    return of(slug, slug, true, line);
  }

  /**
   * A closed course: two straights joined by two half circles, run anticlockwise like a running
   * track, from where the eastern straight begins in the south.
   *
   * @param straightM length of each straight, metres
   * @param radiusM of the bends, metres
   * @param edgeM the longest edge in a bend, metres
   */
  public static ReferenceCourse oval(
      String slug, String name, Position centre, double straightM, double radiusM, double edgeM) {
    List<double[]> plan = new ArrayList<>();
    int edges = (int) Math.ceil(Math.PI * radiusM / edgeM);
    for (int bend = 0; bend < 2; bend++)
      for (int i = 0; i <= edges; i++) {
        double angle = Math.PI * (bend + (double) i / edges);
        double middle = bend == 0 ? straightM / 2 : -straightM / 2;
        plan.add(new double[] {radiusM * Math.cos(angle), middle + radiusM * Math.sin(angle)});
      }
    plan.add(plan.get(0));
    // Begin with the eastern straight: its southern end is the last point of the second bend.
    plan.add(0, plan.remove(plan.size() - 2));
    plan.set(plan.size() - 1, plan.get(0));
    return of(slug, name, true, laidOut(centre, plan));
  }

  /** Places from metres east and north of an origin. */
  public static List<Position> laidOut(Position origin, List<double[]> eastNorthM) {
    List<Position> line = new ArrayList<>();
    for (double[] p : eastNorthM)
      line.add(
          Geodesics.direct(origin, Math.toDegrees(Math.atan2(p[0], p[1])), Math.hypot(p[0], p[1])));
    return line;
  }

  /** A course along this line, as long as the line is, known to 0.05 %, under an open sky. */
  public static ReferenceCourse of(
      String slug, String name, boolean closed, List<Position> positions) {
    Polyline line = new Polyline(positions);
    return measured(slug, name, closed, line, line.lengthM());
  }

  /** The same with a measured length of its own. */
  public static ReferenceCourse measured(
      String slug, String name, boolean closed, Polyline line, double measuredLengthM) {
    return new ReferenceCourse(
        new CourseSlug(slug),
        version(slug + line + measuredLengthM),
        name,
        closed,
        line,
        List.of(),
        measuredLengthM,
        // A good wheel on a good day; DOMAIN.md section 5: combined 0.063 %.
        0.0005 * measuredLengthM,
        Optional.empty(),
        "",
        Method.WHEEL,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        List.of(),
        OptionalDouble.empty(),
        "",
        SkyView.OPEN,
        "invented",
        Map.of());
  }

  private static String version(String content) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      return HexFormat.of().formatHex(digest.digest(content.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      // Every Java platform has SHA-256 (java.security.MessageDigest).
      throw new IllegalStateException(e);
    }
  }
}
