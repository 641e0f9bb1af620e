package milewarden.course.draft;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;

/**
 * A line in a plane as it goes from a recorded path to a centreline: thinned, cut into traversals,
 * averaged, smoothed, simplified. Metres.
 *
 * @param x as many as y
 * @param closed whether the last point joins the first; it is not repeated
 */
@SuppressWarnings("ArrayRecordComponent") // package-private, never shared
record DraftLine(double[] x, double[] y, boolean closed) {

  int size() {
    return x.length;
  }

  /** Without the points nearer than {@code stepM} to the one before: standing still goes away. */
  DraftLine thinned(double stepM) {
    double[] u = new double[x.length];
    double[] v = new double[x.length];
    int n = 0;
    for (int i = 0; i < x.length; i++) {
      if (n > 0 && Math.hypot(x[i] - u[n - 1], y[i] - v[n - 1]) < stepM) continue;
      u[n] = x[i];
      v[n++] = y[i];
    }
    return new DraftLine(Arrays.copyOf(u, n), Arrays.copyOf(v, n), closed);
  }

  /** Distance along the path to each point, and round to the first again where closed. */
  double[] arcs() {
    double[] s = new double[closed ? x.length + 1 : x.length];
    for (int i = 1; i < s.length; i++) s[i] = s[i - 1] + step(i - 1);
    return s;
  }

  private double step(int i) {
    int j = (i + 1) % x.length;
    return Math.hypot(x[j] - x[i], y[j] - y[i]);
  }

  double length() {
    double[] s = arcs();
    return s[s.length - 1];
  }

  /** The points {@code from} to {@code to}, both included, as an open line. */
  DraftLine part(int from, int to) {
    return new DraftLine(
        Arrays.copyOfRange(x, from, to + 1), Arrays.copyOfRange(y, from, to + 1), false);
  }

  DraftLine reversed() {
    double[] u = new double[x.length];
    double[] v = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      u[i] = x[x.length - 1 - i];
      v[i] = y[x.length - 1 - i];
    }
    return new DraftLine(u, v, closed);
  }

  /** A closed line that begins at its point {@code by}. */
  DraftLine shifted(int by) {
    double[] u = new double[x.length];
    double[] v = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      u[i] = x[(i + by) % x.length];
      v[i] = y[(i + by) % x.length];
    }
    return new DraftLine(u, v, closed);
  }

  /**
   * {@code n} points at equal distances; of a closed line the last is one step before the first.
   */
  DraftLine resampled(int n) {
    double[] s = arcs();
    double total = s[s.length - 1];
    double[] u = new double[n];
    double[] v = new double[n];
    int at = 0;
    for (int i = 0; i < n; i++) {
      double wanted = total * i / (closed ? n : n - 1);
      while (at < s.length - 2 && s[at + 1] < wanted) at++;
      double span = s[at + 1] - s[at];
      double f = span > 0 ? Math.min(1, (wanted - s[at]) / span) : 0;
      int next = (at + 1) % x.length;
      u[i] = x[at] + f * (x[next] - x[at]);
      v[i] = y[at] + f * (y[next] - y[at]);
    }
    return new DraftLine(u, v, closed);
  }

  /**
   * Smoothed by a Gaussian of standard deviation {@code widthM} along an equally spaced line. The
   * ends of an open one stay where they are: beyond them the line goes on turned by 180 degrees.
   */
  DraftLine smoothed(double widthM) {
    double spacing = length() / (closed ? x.length : x.length - 1);
    int reach = (int) Math.ceil(3 * widthM / spacing);
    if (reach < 1) return this;
    double[] weights = new double[reach + 1];
    double sum = 0;
    for (int j = 0; j <= reach; j++) {
      double z = j * spacing / widthM;
      weights[j] = Math.exp(-z * z / 2);
      sum += j == 0 ? weights[j] : 2 * weights[j];
    }
    double[] u = new double[x.length];
    double[] v = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      for (int j = -reach; j <= reach; j++) {
        double w = weights[Math.abs(j)] / sum;
        u[i] += w * at(x, i + j);
        v[i] += w * at(y, i + j);
      }
    }
    return new DraftLine(u, v, closed);
  }

  private double at(double[] values, int i) {
    int n = values.length;
    if (closed) return values[Math.floorMod(i, n)];
    if (i < 0) return 2 * values[0] - values[Math.min(n - 1, -i)];
    if (i >= n) return 2 * values[n - 1] - values[Math.max(0, 2 * n - 2 - i)];
    return values[i];
  }

  /**
   * With only as many points as keep every other one within {@code toleranceM} of the line.
   *
   * @see "Douglas and Peucker (1973), The Canadian Cartographer 10, 112-122"
   */
  DraftLine simplified(double toleranceM) {
    int n = x.length;
    boolean[] keep = new boolean[n];
    keep[0] = true;
    if (closed) {
      int far = farthest(0);
      keep[far] = true;
      split(0, far, toleranceM, keep);
      split(far, n, toleranceM, keep);
    } else {
      keep[n - 1] = true;
      split(0, n - 1, toleranceM, keep);
    }
    double[] u = new double[n];
    double[] v = new double[n];
    int m = 0;
    for (int i = 0; i < n; i++) {
      if (!keep[i]) continue;
      u[m] = x[i];
      v[m++] = y[i];
    }
    return new DraftLine(Arrays.copyOf(u, m), Arrays.copyOf(v, m), closed);
  }

  private int farthest(int from) {
    int far = from;
    double most = -1;
    for (int i = 0; i < x.length; i++) {
      double d = Math.hypot(x[i] - x[from], y[i] - y[from]);
      if (d > most) {
        most = d;
        far = i;
      }
    }
    return far;
  }

  /** With a stack of its own: a spiral would be deeper than the thread's. */
  private void split(int first, int last, double tolerance, boolean[] keep) {
    Deque<int[]> open = new ArrayDeque<>();
    open.push(new int[] {first, last});
    while (!open.isEmpty()) {
      int[] span = open.pop();
      int far = farthestOff(span[0], span[1], tolerance);
      if (far < 0) continue;
      keep[far] = true;
      open.push(new int[] {span[0], far});
      open.push(new int[] {far, span[1]});
    }
  }

  /** The point farthest off the chord, if further than the tolerance; else -1. */
  private int farthestOff(int from, int to, double tolerance) {
    int end = to % x.length;
    double dx = x[end] - x[from];
    double dy = y[end] - y[from];
    double chord = Math.hypot(dx, dy);
    int far = -1;
    double most = tolerance;
    for (int i = from + 1; i < to; i++) {
      double px = x[i] - x[from];
      double py = y[i] - y[from];
      double t = chord > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / (chord * chord))) : 0;
      double d = Math.hypot(px - t * dx, py - t * dy);
      if (d > most) {
        most = d;
        far = i;
      }
    }
    return far;
  }

  /** The mean of lines of equal size, point by point. */
  static DraftLine mean(List<DraftLine> lines) {
    int n = lines.get(0).size();
    double[] u = new double[n];
    double[] v = new double[n];
    for (DraftLine line : lines)
      for (int i = 0; i < n; i++) {
        u[i] += line.x[i] / lines.size();
        v[i] += line.y[i] / lines.size();
      }
    return new DraftLine(u, v, lines.get(0).closed);
  }
}
