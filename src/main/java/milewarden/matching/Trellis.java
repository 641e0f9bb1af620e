package milewarden.matching;

import java.util.Optional;
import milewarden.course.Direction;
import milewarden.matching.line.CourseLine;
import milewarden.matching.line.SimpleLine;

/**
 * The likeliest chain of candidates (Viterbi), judged by distance from the line and by how far the
 * walker can have come along it, in a direction that seldom turns.
 *
 * <p>After Newson and Krumm (2009), Hidden Markov map matching through noise and sparseness, ACM
 * SIGSPATIAL GIS, 336-343; on a fixed line the walker's speed says more than their route distance.
 * All weights are this project's own, found with simulated tracks.
 */
final class Trellis {
  // A receiver's error lasts some 20 s: what a node says is a part of an independent witness's
  // word.
  private static final double SPAN_S = 20;
  private static final double SPAN_M = 30;

  /** A place this many sigma off says no more than that it is off: 18 = 6^2 / 2. */
  private static final double FARTHEST = 18;

  private static final double TURN = 40;

  /** At an end of an open course, once the walker can have come from the other one. */
  private static final double TURN_AT_END = 4;

  private static final double TRAVERSED = 0.6;
  private static final double AT_END_M = 40;
  private static final double AGAINST_HINT = 120;

  /** An open course's prolonged ends are a little less likely than the course. */
  private static final double BEYOND = 0.5;

  private static final double BEYOND_M = 5;

  /** So many nodes are gone through before the cost is looked at again. */
  private static final int LOOK_EVERY = 16;

  private final Nodes nodes;
  private final Places places;
  private final CourseLine line;
  private final boolean hinted;
  private final boolean steadfast;

  /** Of each node: the candidate. */
  final int[] chosen;

  /** Of each node: 1 or -1, the direction in which the walker came to it. */
  final int[] direction;

  private double stepCost;
  private boolean dearer;

  /**
   * @param hint the direction at the start, where somebody said it
   * @param steadfast true where the walker may turn at the ends of an open course alone
   * @param mostCost a chain that costs more than this, distances included, is not wanted
   */
  Trellis(
      Nodes nodes,
      Places places,
      CourseLine line,
      Optional<Direction> hint,
      boolean steadfast,
      double mostCost) {
    this.nodes = nodes;
    this.places = places;
    this.line = line;
    hinted = hint.isPresent();
    this.steadfast = steadfast;
    chosen = new int[nodes.count()];
    direction = new int[nodes.count()];
    if (nodes.count() > 0) solve(hint, mostCost);
  }

  /** What the chain's steps and turns cost, without its distances from the line. */
  double stepCost() {
    return stepCost;
  }

  /** True where every chain costs more than was wanted: then there is none. */
  boolean dearer() {
    return dearer;
  }

  /** The most by which distances from the line cost more than their squares say. */
  static double mostBeyond(Nodes nodes, CourseLine line) {
    return line.closed() ? 0 : BEYOND * nodes.count();
  }

  private void solve(Optional<Direction> hint, double mostCost) {
    int[] first = nodes.first;
    byte[] back = new byte[2 * first[nodes.count()]];
    double[] costs = new double[2 * SimpleLine.MOST_CANDIDATES];
    double[] next = new double[2 * SimpleLine.MOST_CANDIDATES];
    for (int c = first[0]; c < first[1]; c++)
      for (int d = 0; d < 2; d++)
        costs[2 * (c - first[0]) + d] = start(d, hint) + emission(c) * weight(0);
    for (int k = 1; k < nodes.count(); k++) {
      advance(k, costs, next, back);
      double[] swap = costs;
      costs = next;
      next = swap;
      // No step brings a cost down.
      if (k % LOOK_EVERY == 0 && least(costs, 2 * (first[k + 1] - first[k])) > mostCost) {
        dearer = true;
        return;
      }
    }
    trace(back, costs);
  }

  private static double least(double[] costs, int count) {
    double least = costs[0];
    for (int s = 1; s < count; s++) least = Math.min(least, costs[s]);
    return least;
  }

  private void advance(int k, double[] costs, double[] next, byte[] back) {
    Step step = new Step(nodes, places, line, k);
    int before = nodes.first[k - 1];
    int here = nodes.first[k];
    int count = here - before;
    double travelled = places.expected[nodes.fix(k - 1)] - places.expected[nodes.fix(0)];
    boolean traversed = travelled > TRAVERSED * line.lengthM();
    double weight = weight(k);
    for (int c = here; c < nodes.first[k + 1]; c++) {
      double emission = emission(c) * weight;
      for (int d = 0; d < 2; d++) {
        double best = Double.POSITIVE_INFINITY;
        int from = 0;
        for (int b = 0; b < count; b++) {
          double chainage = nodes.chainage[before + b];
          double move = step.cost(chainage, nodes.chainage[c], d);
          double straight = costs[2 * b + d] + move;
          double turned = costs[2 * b + 1 - d] + move + turn(chainage, traversed);
          if (straight < best) {
            best = straight;
            from = 2 * b + d;
          }
          if (turned < best) {
            best = turned;
            from = 2 * b + 1 - d;
          }
        }
        next[2 * (c - here) + d] = best + emission;
        back[2 * c + d] = (byte) from;
      }
    }
  }

  private static double start(int d, Optional<Direction> hint) {
    boolean against = hint.isPresent() && (hint.get() == Direction.FORWARD) != (d == 0);
    return against ? AGAINST_HINT : 0;
  }

  private double turn(double chainageM, boolean traversed) {
    // Nobody may start against the hint and turn at once.
    if (!traversed) return hinted ? AGAINST_HINT : TURN;
    double turn = steadfast ? AGAINST_HINT : TURN;
    if (line.closed()) return turn;
    return chainageM < AT_END_M || chainageM > line.lengthM() - AT_END_M ? TURN_AT_END : turn;
  }

  private double weight(int k) {
    if (k == 0) return 1;
    int i = nodes.fix(k - 1);
    int j = nodes.fix(k);
    double share =
        places.timed()
            ? (places.second(j) - places.second(i)) / SPAN_S
            : (places.expected[j] - places.expected[i]) / SPAN_M;
    return Math.max(0.05, Math.min(1, share));
  }

  private double emission(int c) {
    double cost = Math.min(FARTHEST, nodes.square[c] / (2 * nodes.variance));
    if (line.closed()) return cost;
    double s = nodes.chainage[c];
    return s < -BEYOND_M || s > line.lengthM() + BEYOND_M ? cost + BEYOND : cost;
  }

  private void trace(byte[] back, double[] costs) {
    int last = nodes.count() - 1;
    int state = 0;
    int count = 2 * (nodes.first[last + 1] - nodes.first[last]);
    for (int s = 1; s < count; s++) if (costs[s] < costs[state]) state = s;
    stepCost = costs[state];
    for (int k = last; k >= 0; k--) {
      chosen[k] = nodes.first[k] + state / 2;
      stepCost -= emission(chosen[k]) * weight(k);
      direction[k] = state % 2 == 0 ? 1 : -1;
      state = back[2 * nodes.first[k] + state];
    }
  }
}
