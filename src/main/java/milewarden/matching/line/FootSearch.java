package milewarden.matching.line;

/**
 * Finds the edge of a line that is nearest to a place, around a chainage.
 *
 * <p>Where the line hardly bends within reach, and the place lies nearer than its bends are round,
 * the distance falls along the line to one place and rises from there: a few steps lead to it,
 * however many edges there are, and what a search of all of them finds is known beforehand.
 * Elsewhere they are searched.
 */
final class FootSearch {
  private static final int NONE = Integer.MIN_VALUE;

  // A step comes nearer by the ratio of the distance to the radius of the bend.
  private static final int STEPS = 6;

  // More edges than this where the distance could do anything are searched like any others.
  private static final int MOST_UNSURE = 8;

  // Of no more edges than this in the window each is looked at.
  private static final int MOST_FEW = 16;

  // What the plane's scale (1e-5 of a length) and roundings (1e-11 m) could do, by far.
  private static final double SCALE = 0.9;
  private static final double APART_M = 1e-3;
  private static final double INSIDE_M = 1e-6;

  private final Edges edges;
  private final Turning turning;

  FootSearch(Edges edges) {
    this.edges = edges;
    turning = new Turning(edges);
  }

  /**
   * The edge on which the nearest point of the line lies within {@code windowM} of chainage either
   * side, and from there on as long as the line comes nearer still.
   */
  int edge(double px, double py, double nearM, double windowM) {
    if (turning.some() && windowM <= Turning.REACH_M) {
      int lap = edges.closed ? (int) Math.floor(nearM / edges.lengthM) : 0;
      double atM = nearM - lap * edges.lengthM;
      int cell = turning.cell(atM);
      int found = cell < 0 ? NONE : descended(px, py, atM, windowM, cell);
      if (found != NONE) return lap * edges.count + found;
    }
    int few = ofFew(px, py, nearM - windowM, nearM + windowM);
    return few != NONE ? few : searched(px, py, nearM, windowM);
  }

  /** The same by a search of edges, whatever the line does. */
  int searched(double px, double py, double nearM, double windowM) {
    double lowM = nearM - windowM;
    double highM = nearM + windowM;
    int low = edges.at(lowM);
    int high = edges.at(highM);
    // On a line drawn in centimetres first every so many-th edge, then those around the best.
    int stride = Math.max(1, (high - low) / 8);
    int best = nearest(px, py, low, high, stride, lowM, highM);
    while (stride > 1) {
      int from = Math.max(low, best - stride);
      int to = Math.min(high, best + stride);
      stride = Math.max(1, stride / 8);
      best = nearest(px, py, from, to, stride, lowM, highM);
    }
    return nearer(px, py, best, edges.fraction(px, py, edges.ofLap(best)));
  }

  /** Along the line as long as it comes nearer still. */
  private int nearer(double px, double py, int edge, double t) {
    int sign = t >= 1 ? 1 : t <= 0 ? -1 : 0;
    if (sign == 0) return edge;
    int best = edge;
    double bestD2 = edges.squared(px, py, best);
    while (edges.has(best + sign)) {
      double d2 = edges.squared(px, py, best + sign);
      if (!(d2 < bestD2)) break;
      bestD2 = d2;
      best += sign;
    }
    return best;
  }

  /**
   * What {@link #searched} finds where the window holds a few edges of one lap, as it does on a
   * line that is not drawn finely; {@link #NONE} elsewhere.
   */
  private int ofFew(double px, double py, double lowM, double highM) {
    int lap = edges.closed ? (int) Math.floor(lowM / edges.lengthM) : 0;
    if (edges.closed && !(highM < (lap + 1) * edges.lengthM)) return NONE;
    double startM = lap * edges.lengthM;
    int first = edges.ofTable(lowM - startM);
    double lastM = highM - startM;
    int many = first + MOST_FEW;
    if (many < edges.count && edges.chainage[many] <= lastM) return NONE;
    int best = first;
    double bestD2 = Double.POSITIVE_INFINITY;
    for (int e = first; ; e++) {
      double d2 = edges.within(px, py, e, startM + edges.chainage[e], lowM, highM);
      if (d2 < bestD2) {
        bestD2 = d2;
        best = e;
      }
      if (e + 1 == edges.count || !(edges.chainage[e + 1] <= lastM)) break;
    }
    return nearer(px, py, lap * edges.count + best, edges.fraction(px, py, best));
  }

  private int nearest(
      double px, double py, int low, int high, int stride, double lowM, double highM) {
    int best = low;
    double bestD2 = Double.POSITIVE_INFINITY;
    for (int g = low; g <= high; g += stride) {
      double d2 = edges.within(px, py, g, lowM, highM);
      if (d2 < bestD2) {
        bestD2 = d2;
        best = g;
      }
    }
    return best;
  }

  /**
   * What {@link #searched} finds, or {@link #NONE} where that is not sure.
   *
   * <p>Let {@code w} be the way from the line at a chainage to the place and {@code T} the line's
   * direction there. Along the line the distance falls while {@code w T > 0} and rises while it is
   * below. {@code w T} changes from a place of the line on by the chord in between, which is at
   * least its length times the cosine of the largest turn within reach, against at most the
   * distance times the turn in between. So beyond some way from the foot its sign is sure, on each
   * edge the distance is that of its nearer end, and every coarse search leads to where the sign
   * changes. The edges in between are looked at one by one.
   */
  private int descended(double px, double py, double nearM, double windowM, int cell) {
    int e = step(px, py, nearM, windowM);
    double t = edges.raw(px, py, e);
    double on = Math.max(0, Math.min(1, t));
    double startM = edges.chainage[e];
    double edgeM = edges.chainage[e + 1] - startM;
    double distanceM = Math.sqrt(edges.squaredAt(px, py, e, on));
    double falls = SCALE * turning.leastCosine(cell) - distanceM * turning.perM(cell);
    double unsureM =
        (distanceM * turning.atOnce(cell) + Math.abs(t - on) * edgeM) / falls + APART_M;
    if (!(falls > 0) || !(unsureM < windowM)) return NONE;
    double lowM = nearM - windowM + INSIDE_M;
    double highM = nearM + windowM - INSIDE_M;
    double footM = startM + on * edgeM;
    if (footM - unsureM > startM && footM + unsureM < startM + edgeM)
      // The search cuts edges at the ends of the window.
      return startM > lowM && startM + edgeM < highM ? e : NONE;
    return around(px, py, e, footM - unsureM, footM + unsureM, lowM, highM);
  }

  /** The nearest of the edges of which not all lies before or behind two chainages. */
  private int around(
      double px, double py, int e, double fromM, double toM, double lowM, double highM) {
    double[] chainage = edges.chainage;
    int left = e;
    int right = e;
    while (left == e || chainage[left + 1] > fromM)
      if (--left < 0 || e - left > MOST_UNSURE) return NONE;
    while (right == e || chainage[right] < toM)
      if (++right >= edges.count || right - e > MOST_UNSURE) return NONE;
    return chainage[left] > lowM && chainage[right + 1] < highM
        ? lowest(px, py, left, right)
        : NONE;
  }

  /** An edge near the foot: from each the foot on its own straight line leads to the next. */
  private int step(double px, double py, double nearM, double windowM) {
    int before = NONE;
    int e = edges.ofTable(nearM);
    for (int k = 0; k < STEPS; k++) {
      double t = edges.raw(px, py, e);
      if (t >= 0 && t <= 1) return e;
      double at = edges.chainage[e] + t * (edges.chainage[e + 1] - edges.chainage[e]);
      int next = edges.ofTable(Math.max(nearM - windowM, Math.min(nearM + windowM, at)));
      if (next == e || next == before) return e;
      before = e;
      e = next;
    }
    return e;
  }

  /**
   * The edge to which the distance falls and from which it rises; {@link #NONE} where it wavers.
   */
  private int lowest(double px, double py, int left, int right) {
    double before = edges.squared(px, py, left);
    int best = left;
    boolean rises = false;
    for (int e = left + 1; e <= right; e++) {
      double d2 = edges.squared(px, py, e);
      if (d2 > before) rises = true;
      else if (rises || d2 == before) return NONE;
      else best = e;
      before = d2;
    }
    return rises && best > left ? best : NONE;
  }
}
