package milewarden.matching;

import java.util.Arrays;

/**
 * The line with the vertices left out that hardly bend it, and a grid over it: so that looking for
 * candidates costs the same however densely the line was drawn. It only chooses the place; the foot
 * is found on the full line.
 */
final class SimpleLine {
  /** How far the simplified line may lie off the full one; small against any fix's error. */
  private static final double TOLERANCE_M = 0.25;

  /** Longer edges are cut, so that the grid is filled cheaply. */
  private static final double LONGEST_EDGE_M = 400;

  /**
   * How far the ends of an open course go on: 25 m beyond decide about gates, the rest is noise.
   */
  static final double EXTENSION_M = 60;

  /** Places further from the line have no candidate; 6 sigma of a poor track (8 m). */
  static final double RADIUS_M = 50;

  /** Candidates nearer to each other along the line than this are one. */
  private static final double MERGE_M = 15;

  static final int MOST_CANDIDATES = 8;

  final CourseLine line;
  private final double[] x;
  private final double[] y;
  private final double[] chainage;
  private final int edges;
  private final Grid grid;

  SimpleLine(CourseLine line) {
    this.line = line;
    boolean[] keep = new boolean[line.vertices()];
    keep[0] = true;
    keep[line.vertices() - 1] = true;
    mark(line, keep);
    double[][] points = points(line, keep);
    x = points[0];
    y = points[1];
    chainage = points[2];
    edges = x.length - 1;
    grid = new Grid(x, y, RADIUS_M);
  }

  /** Douglas and Peucker (1973), with a stack instead of recursion. */
  private static void mark(CourseLine line, boolean[] keep) {
    int[] stack = new int[2 * line.vertices() + 2];
    int top = 0;
    stack[top++] = 0;
    stack[top++] = line.vertices() - 1;
    while (top > 0) {
      int b = stack[--top];
      int a = stack[--top];
      int far = farthest(line, a, b);
      if (far < 0) continue;
      keep[far] = true;
      stack[top++] = a;
      stack[top++] = far;
      stack[top++] = far;
      stack[top++] = b;
    }
  }

  private static int farthest(CourseLine line, int a, int b) {
    double dx = line.x(b) - line.x(a);
    double dy = line.y(b) - line.y(a);
    double d2 = dx * dx + dy * dy;
    int far = -1;
    double most = TOLERANCE_M * TOLERANCE_M;
    for (int i = a + 1; i < b; i++) {
      double rx = line.x(i) - line.x(a);
      double ry = line.y(i) - line.y(a);
      double t = d2 == 0 ? 0 : Math.max(0, Math.min(1, (rx * dx + ry * dy) / d2));
      double ex = rx - t * dx;
      double ey = ry - t * dy;
      double e2 = ex * ex + ey * ey;
      if (e2 > most) {
        most = e2;
        far = i;
      }
    }
    return far;
  }

  private static double[][] points(CourseLine line, boolean[] keep) {
    int last = line.vertices() - 1;
    int room = line.vertices() + (int) (line.lengthM / LONGEST_EDGE_M) + 4;
    double[] px = new double[room];
    double[] py = new double[room];
    double[] ch = new double[room];
    int n = 0;
    if (!line.closed) {
      extend(line, 0, 1, px, py, n);
      ch[n++] = -EXTENSION_M;
    }
    int before = 0;
    for (int i = 0; i <= last; i++) {
      if (!keep[i]) continue;
      double span = line.chainage(i) - line.chainage(before);
      int parts = i == 0 ? 1 : (int) Math.ceil(span / LONGEST_EDGE_M);
      for (int part = 1; part < parts; part++) {
        double t = part / (double) parts;
        px[n] = line.x(before) + t * (line.x(i) - line.x(before));
        py[n] = line.y(before) + t * (line.y(i) - line.y(before));
        ch[n++] = line.chainage(before) + t * span;
      }
      px[n] = line.x(i);
      py[n] = line.y(i);
      ch[n++] = line.chainage(i);
      before = i;
    }
    if (!line.closed) {
      extend(line, last, last - 1, px, py, n);
      ch[n++] = line.lengthM + EXTENSION_M;
    }
    return new double[][] {
      Arrays.copyOf(px, n), Arrays.copyOf(py, n), Arrays.copyOf(ch, n),
    };
  }

  private static void extend(CourseLine line, int end, int inner, double[] x, double[] y, int n) {
    double dx = line.x(end) - line.x(inner);
    double dy = line.y(end) - line.y(inner);
    double d = Math.hypot(dx, dy);
    x[n] = line.x(end) + dx / d * EXTENSION_M;
    y[n] = line.y(end) + dy / d * EXTENSION_M;
  }

  private double raw(double px, double py, int e) {
    double dx = x[e + 1] - x[e];
    double dy = y[e + 1] - y[e];
    return ((px - x[e]) * dx + (py - y[e]) * dy) / (dx * dx + dy * dy);
  }

  private double squared(double px, double py, int e, double t) {
    double rx = px - x[e] - t * (x[e + 1] - x[e]);
    double ry = py - y[e] - t * (y[e + 1] - y[e]);
    return rx * rx + ry * ry;
  }

  /**
   * The local minima of the distance from a place to the line, as a function of chainage.
   *
   * @param chainagesM filled with their chainages, from 0 to L for a closed line
   * @param squaresM2 filled with their squared distances
   * @return how many, at most {@link #MOST_CANDIDATES}; 0 where the line is further than the radius
   */
  int candidates(double px, double py, int at, double[] chainagesM, double[] squaresM2) {
    int cell = grid.cell(px, py);
    if (cell < 0) return 0;
    int count = 0;
    for (int k = grid.start(cell); k < grid.end(cell); k++) {
      int e = grid.edge(k);
      double t = raw(px, py, e);
      if (t <= 0) continue;
      if (t >= 1) {
        // A minimum at the vertex, if the next edge leads away as well.
        int next = e + 1 < edges ? e + 1 : line.closed ? 0 : -1;
        if (next < 0 || raw(px, py, next) > 0) continue;
        t = 1;
      }
      double d2 = squared(px, py, e, t);
      if (d2 > RADIUS_M * RADIUS_M) continue;
      double s = chainage[e] + t * (chainage[e + 1] - chainage[e]);
      count = add(s, d2, at, count, chainagesM, squaresM2);
    }
    return count;
  }

  private int add(double s, double d2, int at, int count, double[] chainagesM, double[] squares) {
    int worst = -1;
    for (int c = at; c < at + count; c++) {
      double apart = Math.abs(chainagesM[c] - s);
      if (line.closed) apart = Math.min(apart, line.lengthM - apart);
      if (apart < MERGE_M) {
        if (d2 < squares[c]) {
          chainagesM[c] = s;
          squares[c] = d2;
        }
        return count;
      }
      if (worst < 0 || squares[c] > squares[worst]) worst = c;
    }
    if (count < MOST_CANDIDATES) {
      chainagesM[at + count] = s;
      squares[at + count] = d2;
      return count + 1;
    }
    if (d2 < squares[worst]) {
      chainagesM[worst] = s;
      squares[worst] = d2;
    }
    return count;
  }

  /**
   * From an unrolled chainage down to the nearest local minimum of the distance to a place, not
   * further than {@code limitM} along the line.
   */
  double descend(double px, double py, double fromM, double limitM) {
    double lapM = line.closed ? Math.floor(fromM / line.lengthM) * line.lengthM : 0;
    int found = Arrays.binarySearch(chainage, fromM - lapM);
    int e = Math.max(0, Math.min(edges - 1, found >= 0 ? found : -found - 2));
    double t = raw(px, py, e);
    double d2 = squared(px, py, e, clamp(e, t));
    int sign = t > 1 ? 1 : t < 0 ? -1 : 0;
    while (sign != 0) {
      double s = lapM + chainage[sign > 0 ? e + 1 : e];
      if (Math.abs(s - fromM) > limitM) return fromM + sign * limitM;
      int next = e + sign;
      double nextLapM = lapM;
      if (next < 0 || next >= edges) {
        if (!line.closed) break;
        next = next < 0 ? edges - 1 : 0;
        nextLapM += sign * line.lengthM;
      }
      double nextT = raw(px, py, next);
      double nextD2 = squared(px, py, next, clamp(next, nextT));
      if (!(nextD2 < d2)) break;
      e = next;
      lapM = nextLapM;
      t = nextT;
      d2 = nextD2;
      if (sign > 0 ? t <= 1 : t >= 0) break;
    }
    double s = lapM + chainage[e] + clamp(e, t) * (chainage[e + 1] - chainage[e]);
    return Math.max(fromM - limitM, Math.min(fromM + limitM, s));
  }

  /** The extended ends of an open line go on without end. */
  private double clamp(int e, double t) {
    if (t < 0 && (line.closed || e > 0)) return 0;
    if (t > 1 && (line.closed || e < edges - 1)) return 1;
    return t;
  }

  /** The point at an unrolled chainage: element 0 x, element 1 y. */
  void point(double atM, double[] xy) {
    double s = line.closed ? atM - Math.floor(atM / line.lengthM) * line.lengthM : atM;
    int found = Arrays.binarySearch(chainage, s);
    int e = Math.max(0, Math.min(edges - 1, found >= 0 ? found : -found - 2));
    double t = (s - chainage[e]) / (chainage[e + 1] - chainage[e]);
    xy[0] = x[e] + t * (x[e + 1] - x[e]);
    xy[1] = y[e] + t * (y[e + 1] - y[e]);
  }
}
