package milewarden.matching.line;

/**
 * The thinned line with a grid over it, so that looking for candidates costs the same however
 * densely the line was drawn. It only chooses the place; the foot is found on the full line.
 */
public final class SimpleLine {
  /** Places further from the line have no candidate; 6 sigma of a poor track (8 m). */
  static final double RADIUS_M = 50;

  /** Candidates nearer to each other along the line than this are one. */
  private static final double MERGE_M = 15;

  // Below the least limit of a descent, so that it need not be worked out on most.
  private static final double WITHIN_LIMIT_M = 4;

  /** Of one place. */
  public static final int MOST_CANDIDATES = 8;

  private final CourseLine line;
  private final double[] x;
  private final double[] y;
  private final double[] chainage;
  private final int edges;
  private final EdgeTable table;
  private final Grid grid;

  // Of each edge: its vector and one over its square, for speed.
  private final double[] dx;
  private final double[] dy;
  private final double[] perSquare;

  public SimpleLine(CourseLine line) {
    this.line = line;
    Thinned thinned = new Thinned(line);
    x = thinned.x;
    y = thinned.y;
    chainage = thinned.chainage;
    edges = x.length - 1;
    table = new EdgeTable(chainage);
    grid = new Grid(x, y, RADIUS_M);
    dx = new double[edges];
    dy = new double[edges];
    perSquare = new double[edges];
    for (int e = 0; e < edges; e++) {
      dx[e] = x[e + 1] - x[e];
      dy[e] = y[e + 1] - y[e];
      perSquare[e] = 1 / (dx[e] * dx[e] + dy[e] * dy[e]);
    }
  }

  /** The line that it is thinned from. */
  public CourseLine full() {
    return line;
  }

  private double raw(double px, double py, int e) {
    return ((px - x[e]) * dx[e] + (py - y[e]) * dy[e]) * perSquare[e];
  }

  private double squared(double px, double py, int e, double t) {
    double rx = px - x[e] - t * dx[e];
    double ry = py - y[e] - t * dy[e];
    return rx * rx + ry * ry;
  }

  /**
   * The local minima of the distance from a place to the line, as a function of chainage.
   *
   * @param chainagesM filled with their chainages, from 0 to L for a closed line
   * @param squaresM2 filled with their squared distances
   * @return how many, at most {@link #MOST_CANDIDATES}; 0 where the line is further than the radius
   */
  public int candidates(double px, double py, int at, double[] chainagesM, double[] squaresM2) {
    int cell = grid.cell(px, py);
    if (cell < 0) return 0;
    int count = 0;
    for (int k = grid.start(cell); k < grid.end(cell); k++) {
      int e = grid.edge(k);
      double t = raw(px, py, e);
      if (t <= 0) continue;
      if (t >= 1) {
        // A minimum at the vertex, if the next edge leads away as well.
        int next = e + 1 < edges ? e + 1 : line.closed() ? 0 : -1;
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
      if (line.closed()) apart = Math.min(apart, line.lengthM() - apart);
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
   * From an unrolled chainage down to the nearest local minimum of the distance to a place: along
   * the line not further than the place is away, but for bends.
   */
  public double descend(double px, double py, double fromM) {
    double lapM = line.closed() ? Math.floor(fromM / line.lengthM()) * line.lengthM() : 0;
    int e = table.edge(fromM - lapM);
    int first = e;
    double firstLapM = lapM;
    double t = raw(px, py, e);
    double d2 = squared(px, py, e, clamp(e, t));
    int sign = t > 1 ? 1 : t < 0 ? -1 : 0;
    while (sign != 0) {
      double s = lapM + chainage[sign > 0 ? e + 1 : e];
      if (Math.abs(s - fromM) > WITHIN_LIMIT_M) {
        double limitM = limitM(px, py, first, fromM - firstLapM);
        if (Math.abs(s - fromM) > limitM) return fromM + sign * limitM;
      }
      int next = e + sign;
      double nextLapM = lapM;
      if (next < 0 || next >= edges) {
        if (!line.closed()) break;
        next = next < 0 ? edges - 1 : 0;
        nextLapM += sign * line.lengthM();
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
    if (Math.abs(s - fromM) <= WITHIN_LIMIT_M) return s;
    double limitM = limitM(px, py, first, fromM - firstLapM);
    return Math.max(fromM - limitM, Math.min(fromM + limitM, s));
  }

  /** How far a descent may lead that begins at a chainage of edge {@code e}. */
  private double limitM(double px, double py, int e, double atM) {
    double at = (atM - chainage[e]) / (chainage[e + 1] - chainage[e]);
    return 1.5 * Math.sqrt(squared(px, py, e, at)) + 5;
  }

  /** The extended ends of an open line go on without end. */
  private double clamp(int e, double t) {
    if (t < 0 && (line.closed() || e > 0)) return 0;
    if (t > 1 && (line.closed() || e < edges - 1)) return 1;
    return t;
  }

  /** The point at an unrolled chainage: element 0 x, element 1 y. */
  public void point(double atM, double[] xy) {
    double s = line.closed() ? atM - Math.floor(atM / line.lengthM()) * line.lengthM() : atM;
    int e = table.edge(s);
    double t = (s - chainage[e]) / (chainage[e + 1] - chainage[e]);
    xy[0] = x[e] + t * dx[e];
    xy[1] = y[e] + t * dy[e];
  }
}
