package milewarden.matching.line;

/**
 * The edges of a line in the plane. An edge is named by its number; on a closed line the numbers go
 * on over laps, before the first as well. The first and last edges of an open one go on straight.
 */
final class Edges {
  final boolean closed;

  /** Vertices in the plane, metres. */
  final double[] x;

  final double[] y;

  /** Of the vertices on the ellipsoid, rising, metres. */
  final double[] chainage;

  /** How many there are on one traversal or lap. */
  final int count;

  /** Of one traversal or lap on the ellipsoid, metres. */
  final double lengthM;

  // Of each edge: its vector, one over its square, and one over its chainage, for speed.
  final double[] dx;
  final double[] dy;
  final double[] perSquare;
  final double[] perM;

  private final double[] heading;
  private final double turnPerLap;
  private final EdgeTable table;

  Edges(boolean closed, double[] x, double[] y, double[] chainage) {
    this.closed = closed;
    this.x = x;
    this.y = y;
    this.chainage = chainage;
    count = x.length - 1;
    lengthM = chainage[count];
    table = new EdgeTable(chainage);
    heading = new double[count];
    dx = new double[count];
    dy = new double[count];
    perSquare = new double[count];
    perM = new double[count];
    for (int e = 0; e < count; e++) {
      dx[e] = x[e + 1] - x[e];
      dy[e] = y[e + 1] - y[e];
      perSquare[e] = 1 / (dx[e] * dx[e] + dy[e] * dy[e]);
      perM[e] = 1 / (chainage[e + 1] - chainage[e]);
      double h = Math.atan2(dx[e], dy[e]);
      heading[e] = e == 0 ? h : heading[e - 1] + turn(h - heading[e - 1]);
    }
    turnPerLap =
        closed ? heading[count - 1] - heading[0] + turn(heading[0] - heading[count - 1]) : 0;
  }

  private static double turn(double angle) {
    return Math.IEEEremainder(angle, 2 * Math.PI);
  }

  /** The edge on which an unrolled chainage lies. */
  int at(double chainageM) {
    if (!closed) return table.edge(chainageM);
    int lap = (int) Math.floor(chainageM / lengthM);
    return lap * count + table.edge(chainageM - lap * lengthM);
  }

  /** The edge of the first lap on which a chainage from 0 to L lies. */
  int ofTable(double chainageM) {
    return table.edge(chainageM);
  }

  boolean has(int g) {
    return closed || (g >= 0 && g < count);
  }

  /** The edge of the first lap that is this one of any lap. */
  int ofLap(int g) {
    return g >= 0 && g < count ? g : Math.floorMod(g, count);
  }

  /** Where the foot of the perpendicular falls on edge {@code e}: 0 at its start, 1 at its end. */
  double fraction(double px, double py, int e) {
    double t = raw(px, py, e);
    if (t < 0 && (closed || e > 0)) return 0;
    if (t > 1 && (closed || e < count - 1)) return 1;
    return t;
  }

  /** The same on the edge gone on without end either way. */
  double raw(double px, double py, int e) {
    return ((px - x[e]) * dx[e] + (py - y[e]) * dy[e]) * perSquare[e];
  }

  double squared(double px, double py, int g) {
    int e = ofLap(g);
    return squaredAt(px, py, e, fraction(px, py, e));
  }

  /** Squared distance from the part of edge {@code g} between two unrolled chainages. */
  double within(double px, double py, int g, double lowM, double highM) {
    int e = g;
    double start = 0;
    if (g < 0 || g >= count) {
      int lap = Math.floorDiv(g, count);
      e = g - lap * count;
      start = lap * lengthM;
    }
    return within(px, py, e, start + chainage[e], lowM, highM);
  }

  /** The same of edge {@code e}, which begins at an unrolled chainage. */
  double within(double px, double py, int e, double startM, double lowM, double highM) {
    double t = fraction(px, py, e);
    double low = (lowM - startM) * perM[e];
    double high = (highM - startM) * perM[e];
    // The library's least and largest cost more: they tell -0 from 0.
    if (t > high) t = high;
    if (t < low) t = low;
    return squaredAt(px, py, e, t);
  }

  /** Squared distance from edge {@code e}, not prolonged. */
  double squaredOfPart(double px, double py, int e) {
    return squaredAt(px, py, e, Math.max(0, Math.min(1, fraction(px, py, e))));
  }

  /** Squared distance from the point at this part of edge {@code e}. */
  double squaredAt(double px, double py, int e, double t) {
    double rx = px - x[e] - t * dx[e];
    double ry = py - y[e] - t * dy[e];
    return rx * rx + ry * ry;
  }

  void write(double px, double py, int g, Foot out) {
    int lap = lap(g);
    int e = g - lap * count;
    double t = fraction(px, py, e);
    double rx = px - x[e] - t * dx[e];
    double ry = py - y[e] - t * dy[e];
    double offset = Math.sqrt(rx * rx + ry * ry);
    out.chainageM = lap * lengthM + chainage[e] + t * (chainage[e + 1] - chainage[e]);
    out.offsetM = rx * dy[e] - ry * dx[e] >= 0 ? offset : -offset;
    out.headingRad = heading[e] + lap * turnPerLap;
    // On a vertex both edges are as near: half of the turn lies before it, half behind.
    int other = t == 0 ? g - 1 : t == 1 ? g + 1 : g;
    if (other != g && has(other)) out.headingRad = (out.headingRad + unwound(other)) / 2;
  }

  /** The lap of an edge; by no division on the first. */
  private int lap(int g) {
    return g >= 0 && g < count ? 0 : Math.floorDiv(g, count);
  }

  /** The heading of an edge, clockwise, unwound over laps, radians. */
  double unwound(int g) {
    int lap = lap(g);
    return heading[g - lap * count] + lap * turnPerLap;
  }
}
