package milewarden.matching;

import java.util.Arrays;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/**
 * A course's line in a plane of true angles, with the geodesic chainage of its vertices. Immutable.
 *
 * <p>A closed line is unrolled: chainage and heading go on over laps. The first and last edges of
 * an open one go on straight.
 */
final class CourseLine {
  final LocalPlane plane;
  final boolean closed;

  /** Geodesic length on the ellipsoid of one traversal or lap, metres. */
  final double lengthM;

  private final double[] x;
  private final double[] y;
  private final double[] chainage;
  private final double[] heading;
  private final double turnPerLap;
  private final int edges;
  private final EdgeTable table;

  // Of each edge: its vector, one over its square, and one over its chainage, for speed.
  private final double[] dx;
  private final double[] dy;
  private final double[] perSquare;
  private final double[] perM;

  CourseLine(ReferenceCourse course) {
    Polyline line = course.line();
    plane = LocalPlane.at(line.middle());
    closed = course.closed();
    int n = line.positions().size();
    double[] along = line.chainagesM();
    double[] px = new double[n];
    double[] py = new double[n];
    double[] ch = new double[n];
    int k = 0;
    for (int i = 0; i < n; i++) {
      // A vertex on the one before has no direction and adds no length.
      if (k > 0 && !(along[i] > ch[k - 1])) continue;
      Position p = line.positions().get(i);
      plane.project(p.latitudeDeg(), p.longitudeDeg(), px, py, k);
      ch[k++] = along[i];
    }
    if (k < 2)
      throw new IllegalArgumentException("the line of " + course.slug() + " has no length");
    x = Arrays.copyOf(px, k);
    y = Arrays.copyOf(py, k);
    chainage = Arrays.copyOf(ch, k);
    edges = k - 1;
    lengthM = chainage[edges];
    table = new EdgeTable(chainage);
    heading = new double[edges];
    dx = new double[edges];
    dy = new double[edges];
    perSquare = new double[edges];
    perM = new double[edges];
    for (int e = 0; e < edges; e++) {
      dx[e] = x[e + 1] - x[e];
      dy[e] = y[e + 1] - y[e];
      perSquare[e] = 1 / (dx[e] * dx[e] + dy[e] * dy[e]);
      perM[e] = 1 / (chainage[e + 1] - chainage[e]);
      double h = Math.atan2(dx[e], dy[e]);
      heading[e] = e == 0 ? h : heading[e - 1] + turn(h - heading[e - 1]);
    }
    turnPerLap =
        closed ? heading[edges - 1] - heading[0] + turn(heading[0] - heading[edges - 1]) : 0;
  }

  private static double turn(double angle) {
    return Math.IEEEremainder(angle, 2 * Math.PI);
  }

  int vertices() {
    return x.length;
  }

  double x(int vertex) {
    return x[vertex];
  }

  double y(int vertex) {
    return y[vertex];
  }

  double chainage(int vertex) {
    return chainage[vertex];
  }

  /** The edge, unrolled over laps, on which an unrolled chainage lies. */
  private int edgeAt(double chainageM) {
    if (!closed) return table.edge(chainageM);
    int lap = (int) Math.floor(chainageM / lengthM);
    return lap * edges + table.edge(chainageM - lap * lengthM);
  }

  /** The heading of the line at an unrolled chainage; at a vertex that of the edge behind it. */
  double headingAt(double chainageM) {
    return unwound(edgeAt(chainageM));
  }

  /** {@link #headingAt} of many; an edge is looked up only where the one before ends. */
  double[] headingsAt(double[] chainageM) {
    double[] out = new double[chainageM.length];
    double lapM = 0;
    double low = Double.POSITIVE_INFINITY;
    double high = low;
    double here = 0;
    for (int i = 0; i < out.length; i++) {
      double at = chainageM[i] - lapM;
      if (!(at >= low && at < high)) {
        int g = edgeAt(chainageM[i]);
        int lap = Math.floorDiv(g, edges);
        int e = g - lap * edges;
        lapM = lap * lengthM;
        low = chainage[e];
        high = chainage[e + 1];
        here = unwound(g);
      }
      out[i] = here;
    }
    return out;
  }

  /**
   * The nearest point of the line within {@code windowM} of chainage either side, and from there on
   * as long as the line comes nearer still. Where the vertices lie makes no difference.
   */
  void foot(double px, double py, double nearM, double windowM, Foot out) {
    double lowM = nearM - windowM;
    double highM = nearM + windowM;
    int low = edgeAt(lowM);
    int high = edgeAt(highM);
    // On a line drawn in centimetres first every so many-th edge, then those around the best.
    int stride = Math.max(1, (high - low) / 8);
    int best = nearest(px, py, low, high, stride, lowM, highM);
    while (stride > 1) {
      int from = Math.max(low, best - stride);
      int to = Math.min(high, best + stride);
      stride = Math.max(1, stride / 8);
      best = nearest(px, py, from, to, stride, lowM, highM);
    }
    double t = fraction(px, py, Math.floorMod(best, edges));
    int sign = t >= 1 ? 1 : t <= 0 ? -1 : 0;
    double bestD2 = squared(px, py, best);
    while (sign != 0 && has(best + sign)) {
      double d2 = squared(px, py, best + sign);
      if (!(d2 < bestD2)) break;
      bestD2 = d2;
      best += sign;
    }
    write(px, py, best, out);
  }

  private int nearest(
      double px, double py, int low, int high, int stride, double lowM, double highM) {
    int best = low;
    double bestD2 = Double.POSITIVE_INFINITY;
    for (int g = low; g <= high; g += stride) {
      double d2 = within(px, py, g, lowM, highM);
      if (d2 < bestD2) {
        bestD2 = d2;
        best = g;
      }
    }
    return best;
  }

  /** Squared distance from the part of edge {@code g} between two unrolled chainages. */
  private double within(double px, double py, int g, double lowM, double highM) {
    int e = g;
    double start = 0;
    if (g < 0 || g >= edges) {
      int lap = Math.floorDiv(g, edges);
      e = g - lap * edges;
      start = lap * lengthM;
    }
    start += chainage[e];
    double t = fraction(px, py, e);
    t = Math.max((lowM - start) * perM[e], Math.min((highM - start) * perM[e], t));
    double rx = px - x[e] - t * dx[e];
    double ry = py - y[e] - t * dy[e];
    return rx * rx + ry * ry;
  }

  /** Distance from the whole line, every edge looked at; not prolonged beyond the ends. */
  double distance(double px, double py) {
    double least = Double.POSITIVE_INFINITY;
    for (int e = 0; e < edges; e++) {
      double t = Math.max(0, Math.min(1, fraction(px, py, e)));
      double rx = px - x[e] - t * dx[e];
      double ry = py - y[e] - t * dy[e];
      least = Math.min(least, rx * rx + ry * ry);
    }
    return Math.sqrt(least);
  }

  private boolean has(int g) {
    return closed || (g >= 0 && g < edges);
  }

  /** Where the foot of the perpendicular falls on edge {@code e}: 0 at its start, 1 at its end. */
  private double fraction(double px, double py, int e) {
    double t = ((px - x[e]) * dx[e] + (py - y[e]) * dy[e]) * perSquare[e];
    if (t < 0 && (closed || e > 0)) return 0;
    if (t > 1 && (closed || e < edges - 1)) return 1;
    return t;
  }

  private double squared(double px, double py, int g) {
    int e = Math.floorMod(g, edges);
    double t = fraction(px, py, e);
    double rx = px - x[e] - t * dx[e];
    double ry = py - y[e] - t * dy[e];
    return rx * rx + ry * ry;
  }

  private void write(double px, double py, int g, Foot out) {
    int lap = Math.floorDiv(g, edges);
    int e = g - lap * edges;
    double t = fraction(px, py, e);
    double rx = px - x[e] - t * dx[e];
    double ry = py - y[e] - t * dy[e];
    double offset = Math.sqrt(rx * rx + ry * ry);
    out.chainageM = lap * lengthM + chainage[e] + t * (chainage[e + 1] - chainage[e]);
    out.offsetM = rx * dy[e] - ry * dx[e] >= 0 ? offset : -offset;
    out.headingRad = unwound(g);
    // On a vertex both edges are as near: half of the turn lies before it, half behind.
    int other = t == 0 ? g - 1 : t == 1 ? g + 1 : g;
    if (other != g && has(other)) out.headingRad = (unwound(g) + unwound(other)) / 2;
  }

  private double unwound(int g) {
    int lap = Math.floorDiv(g, edges);
    return heading[g - lap * edges] + lap * turnPerLap;
  }
}
