package milewarden.matching.line;

import java.util.Arrays;

/**
 * Which edges of a line come within the radius of a cell; the cell's side is the radius too. Cells
 * near the line only, found by hashing: a long course costs no empty country.
 */
final class Grid {
  private final double side;
  private final long[] keys;
  private final int[] starts;
  private final int[] ends;
  private final int[] edges;
  private final int mask;

  Grid(double[] x, double[] y, double radiusM) {
    side = radiusM;
    long[] pairs = new long[64];
    int n = 0;
    int edgeCount = x.length - 1;
    for (int e = 0; e < edgeCount; e++) {
      int x0 = index(Math.min(x[e], x[e + 1]) - radiusM);
      int x1 = index(Math.max(x[e], x[e + 1]) + radiusM);
      int y0 = index(Math.min(y[e], y[e + 1]) - radiusM);
      int y1 = index(Math.max(y[e], y[e + 1]) + radiusM);
      for (int cx = x0; cx <= x1; cx++)
        for (int cy = y0; cy <= y1; cy++) {
          if (!reaches(x, y, e, cx, cy)) continue;
          if (n == pairs.length) pairs = Arrays.copyOf(pairs, 2 * n);
          pairs[n++] = key(cx, cy) * EDGES + e;
        }
    }
    pairs = Arrays.copyOf(pairs, n);
    Arrays.sort(pairs);
    int cells = 0;
    for (int i = 0; i < n; i++) if (i == 0 || pairs[i] / EDGES != pairs[i - 1] / EDGES) cells++;
    int size = Integer.highestOneBit(Math.max(4, cells)) * 4;
    mask = size - 1;
    keys = new long[size];
    Arrays.fill(keys, -1);
    starts = new int[size];
    ends = new int[size];
    edges = new int[n];
    for (int i = 0; i < n; i++) {
      long key = pairs[i] / EDGES;
      edges[i] = (int) (pairs[i] % EDGES);
      int slot = slot(key);
      if (keys[slot] < 0) {
        keys[slot] = key;
        starts[slot] = i;
      }
      ends[slot] = i + 1;
    }
  }

  // A line has fewer edges than this (the course file's limit is far below), so that cell and edge
  // fit into one long: 2 x 21 bits of cell indices, 21 bits of edge.
  private static final long EDGES = 1L << 21;
  private static final int OFFSET = 1 << 20;

  private int index(double metres) {
    return (int) Math.floor(metres / side);
  }

  private static long key(int cx, int cy) {
    return ((long) (cx + OFFSET) << 21) | (cy + OFFSET);
  }

  private boolean reaches(double[] x, double[] y, int e, int cx, int cy) {
    double px = (cx + 0.5) * side;
    double py = (cy + 0.5) * side;
    double dx = x[e + 1] - x[e];
    double dy = y[e + 1] - y[e];
    double d2 = dx * dx + dy * dy;
    double t = d2 == 0 ? 0 : ((px - x[e]) * dx + (py - y[e]) * dy) / d2;
    t = Math.max(0, Math.min(1, t));
    double rx = px - x[e] - t * dx;
    double ry = py - y[e] - t * dy;
    // Radius plus half of the cell's diagonal.
    double reach = side * (1 + Math.sqrt(0.5));
    return rx * rx + ry * ry <= reach * reach;
  }

  private int slot(long key) {
    int slot = (int) ((key * 0x9E3779B97F4A7C15L) >>> 40) & mask;
    while (keys[slot] >= 0 && keys[slot] != key) slot = (slot + 1) & mask;
    return slot;
  }

  /** The cell of a place; negative where no edge is near. */
  int cell(double px, double py) {
    double limit = side * (OFFSET - 1);
    if (!(Math.abs(px) < limit) || !(Math.abs(py) < limit)) return -1;
    int slot = slot(key(index(px), index(py)));
    return keys[slot] < 0 ? -1 : slot;
  }

  int start(int cell) {
    return starts[cell];
  }

  int end(int cell) {
    return ends[cell];
  }

  /** In ascending order within a cell. */
  int edge(int k) {
    return edges[k];
  }
}
