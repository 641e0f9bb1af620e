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
   * A path between corners that are rounded by arcs.
   *
   * @param cornersM east and north of the origin; a closed path begins and ends in the middle
   *     between its last and its first corner
   * @param radiusM of every arc; the corners must lie far enough apart for it
   * @param edgeM the longest edge in an arc
   */
  public static List<Position> rounded(
      Position origin, List<double[]> cornersM, double radiusM, double edgeM, boolean closed) {
    int n = cornersM.size();
    List<double[]> plan = new ArrayList<>();
    double[] seam = middle(cornersM.get(n - 1), cornersM.get(0));
    plan.add(closed ? seam : cornersM.get(0));
    for (int i = closed ? 0 : 1; i < (closed ? n : n - 1); i++)
      arc(cornersM.get((i + n - 1) % n), cornersM.get(i), cornersM.get((i + 1) % n), radiusM, edgeM)
          .forEach(plan::add);
    plan.add(closed ? seam : cornersM.get(n - 1));
    return laidOut(origin, plan);
  }

  private static double[] middle(double[] a, double[] b) {
    return new double[] {(a[0] + b[0]) / 2, (a[1] + b[1]) / 2};
  }

  /** The arc that touches both legs of the corner, from the first leg to the second. */
  private static List<double[]> arc(
      double[] before, double[] corner, double[] after, double radius, double edgeM) {
    double in = Math.atan2(corner[1] - before[1], corner[0] - before[0]);
    double out = Math.atan2(after[1] - corner[1], after[0] - corner[0]);
    double turn = Math.IEEEremainder(out - in, 2 * Math.PI);
    double cut = radius * Math.tan(Math.abs(turn) / 2);
    double side = Math.signum(turn);
    double x = corner[0] - cut * Math.cos(in) - side * radius * Math.sin(in);
    double y = corner[1] - cut * Math.sin(in) + side * radius * Math.cos(in);
    int edges = Math.max(1, (int) Math.ceil(radius * Math.abs(turn) / edgeM));
    List<double[]> points = new ArrayList<>();
    for (int i = 0; i <= edges; i++) {
      double heading = in + turn * i / edges;
      points.add(
          new double[] {
            x + side * radius * Math.sin(heading), y - side * radius * Math.cos(heading)
          });
    }
    return points;
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
