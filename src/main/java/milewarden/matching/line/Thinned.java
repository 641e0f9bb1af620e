package milewarden.matching.line;

import java.util.Arrays;

/**
 * A line with the vertices left out that hardly bend it; the ends of an open one are prolonged, and
 * long edges are cut.
 *
 * @see "Douglas and Peucker (1973), The Canadian Cartographer 10, 112-122"
 */
final class Thinned {
  /** How far the thinned line may lie off the full one; small against any fix's error. */
  static final double TOLERANCE_M = 0.25;

  /** Longer edges are cut, so that the grid is filled cheaply. */
  private static final double LONGEST_EDGE_M = 400;

  /**
   * How far the ends of an open course go on: 25 m beyond decide about gates, the rest is noise.
   */
  static final double EXTENSION_M = 60;

  /** Vertices in the plane, metres. */
  final double[] x;

  final double[] y;

  /** Their chainages, metres, rising; below 0 and above L at prolonged ends. */
  final double[] chainage;

  Thinned(CourseLine line) {
    boolean[] keep = new boolean[line.vertices()];
    keep[0] = true;
    keep[line.vertices() - 1] = true;
    mark(line, keep);
    double[][] points = points(line, keep);
    x = points[0];
    y = points[1];
    chainage = points[2];
  }

  /** With a stack instead of recursion. */
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
    int room = line.vertices() + (int) (line.lengthM() / LONGEST_EDGE_M) + 4;
    double[] px = new double[room];
    double[] py = new double[room];
    double[] ch = new double[room];
    int n = 0;
    if (!line.closed()) {
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
    if (!line.closed()) {
      extend(line, last, last - 1, px, py, n);
      ch[n++] = line.lengthM() + EXTENSION_M;
    }
    return new double[][] {
      Arrays.copyOf(px, n), Arrays.copyOf(py, n), Arrays.copyOf(ch, n),
    };
  }

  private static void extend(CourseLine line, int end, int inner, double[] x, double[] y, int n) {
    double dx = line.x(end) - line.x(inner);
    double dy = line.y(end) - line.y(inner);
    double d = Math.sqrt(dx * dx + dy * dy);
    x[n] = line.x(end) + dx / d * EXTENSION_M;
    y[n] = line.y(end) + dy / d * EXTENSION_M;
  }
}
