package milewarden.course.draft;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A recorded path cut into its traversals of the course and averaged to one line.
 *
 * @param count how many traversals or laps
 * @param line their mean, closed for a loop
 * @param recordedM mean length of a traversal as recorded, standing still taken out
 */
record Traversals(int count, DraftLine line, double recordedM) {
  /** Points of the mean line: one a metre, within bounds that keep the work small: our own. */
  private static final int FEWEST_POINTS = 50;

  private static final int MOST_POINTS = 20_000;

  /**
   * The traversals in a path.
   *
   * @param path thinned, at least two points
   * @param lengthM of one traversal as measured
   * @param loop whether the course is one; found out where empty
   */
  static Traversals of(DraftLine path, double lengthM, Optional<Boolean> loop) {
    double[] arcs = path.arcs();
    double total = arcs[arcs.length - 1];
    int count = (int) Math.max(1, Math.round(total / lengthM));
    double near = nearM(lengthM);
    boolean closed = loop.orElseGet(() -> returns(path, arcs, count, near));
    int points = (int) Math.max(FEWEST_POINTS, Math.min(MOST_POINTS, Math.round(lengthM)));
    List<DraftLine> parts = new ArrayList<>();
    int from = 0;
    for (int i = 1; i <= count; i++) {
      boolean atStart = closed || i % 2 == 0;
      int to =
          i == count ? path.size() - 1 : cut(path, arcs, i * total / count, total / count, atStart);
      if (to <= from) continue;
      DraftLine part = path.part(from, to);
      if (!closed && i % 2 == 0) part = part.reversed();
      parts.add(lap(part, closed, near).resampled(points));
      from = to;
    }
    return new Traversals(parts.size(), DraftLine.mean(parts), total / count);
  }

  /** So near to its start a loop has come back: a few fixes' noise, or 3 %: our own choice. */
  static double nearM(double lengthM) {
    return Math.max(20, 0.03 * lengthM);
  }

  private static boolean returns(DraftLine path, double[] arcs, int count, double near) {
    int end =
        count == 1
            ? path.size() - 1
            : cut(path, arcs, arcs[arcs.length - 1] / count, arcs[arcs.length - 1] / count, true);
    return fromStart(path, end) <= near;
  }

  private static double fromStart(DraftLine path, int i) {
    return Math.hypot(path.x()[i] - path.x()[0], path.y()[i] - path.y()[0]);
  }

  /** The point nearest to the start, or farthest from it, around a distance along the path. */
  private static int cut(
      DraftLine path, double[] arcs, double aroundM, double spanM, boolean nearest) {
    int best = -1;
    double bestValue = 0;
    for (int i = 0; i < path.size(); i++) {
      // A lap's length as recorded varies by less than a tenth: our own bound.
      if (Math.abs(arcs[i] - aroundM) > 0.1 * spanM) continue;
      double value = nearest ? fromStart(path, i) : -fromStart(path, i);
      if (best < 0 || value < bestValue) {
        best = i;
        bestValue = value;
      }
    }
    return Math.max(1, best);
  }

  /** A lap as a closed line: its last points that overlap its first ones are left out. */
  private static DraftLine lap(DraftLine part, boolean closed, double near) {
    if (!closed) return part;
    int last = part.size() - 1;
    double[] arcs = part.arcs();
    int end = last;
    for (int i = last; i > 1 && arcs[last] - arcs[i] <= near; i--)
      if (fromStart(part, i) < fromStart(part, end)) end = i;
    DraftLine lap = part.part(0, end);
    return new DraftLine(lap.x(), lap.y(), true);
  }
}
