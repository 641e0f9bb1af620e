package milewarden.matching;

import java.util.Arrays;
import java.util.Optional;
import milewarden.course.Direction;

/**
 * Where on the line the walker was at a chain of nodes, one every 3 s: the likeliest sequence of
 * candidates (Viterbi), judged by distance from the line and by how far the walker can have come
 * along it, in a direction that seldom turns.
 *
 * <p>After Newson and Krumm (2009), Hidden Markov map matching through noise and sparseness, ACM
 * SIGSPATIAL GIS, 336-343; on a fixed line the walker's speed says more than their route distance.
 * All weights are this project's own, found with simulated tracks.
 */
final class Progress {
  /** Between nodes; three nodes share the span over which places are smoothed. */
  private static final double NODE_S = 3;

  /** Between nodes of a track without times. */
  private static final double NODE_M = 5;

  // A receiver's error lasts some 20 s: what a node says is a part of an independent witness's
  // word.
  private static final double SPAN_S = 20;
  private static final double SPAN_M = 30;

  /** A place this many sigma off says no more than that it is off: 18 = 6^2 / 2. */
  private static final double FARTHEST = 18;

  private static final double LEAST_SIGMA_M = 4;
  private static final double MOST_SIGMA_M = 15;

  /** Scale of the difference between advance and expectation: metres, and share of the way. */
  private static final double BETA_M = 2;

  private static final double BETA_SHARE = 0.15;

  /** A step longer than this may have been stood through as well as walked. */
  private static final double LONG_S = 15;

  /** That it was, in spite of the speed before and after. */
  private static final double STOOD = 3;

  /** The most that a step costs: a jump to another place of the line. */
  private static final double JUMP = 40;

  private static final double TURN = 40;

  /** At an end of an open course, once the walker can have come from the other one. */
  private static final double TURN_AT_END = 4;

  private static final double TRAVERSED = 0.6;
  private static final double AT_END_M = 40;
  private static final double REVERSE = 20;
  private static final double AGAINST_HINT = 120;

  /** An open course's prolonged ends are a little less likely than the course. */
  private static final double BEYOND = 0.5;

  private static final double BEYOND_M = 5;

  private final Places places;
  private final CourseLine line;
  private final SimpleLine simple;

  private int[] node = new int[0];
  private int[] first = new int[0];
  private int nodes;
  private int tried;
  private double[] sigma = new double[0];
  private double[] square = new double[0];

  /** Per node. */
  private double[] chainage = new double[0];

  private int[] direction = new int[0];
  private boolean[] jumped = new boolean[0];

  Progress(Places places, SimpleLine simple, Optional<Direction> hint) {
    this.places = places;
    this.simple = simple;
    this.line = simple.line;
    collect();
    if (nodes > 0) solve(hint);
  }

  /** The nodes with at least one candidate, in order of time. */
  int nodes() {
    return nodes;
  }

  /** The places that were asked for candidates; at least {@link #nodes}. */
  int tried() {
    return tried;
  }

  /** The fix of a node. */
  int fix(int k) {
    return node[k];
  }

  /** Unrolled chainage of a node. */
  double chainageM(int k) {
    return chainage[k];
  }

  /** 1 or -1: which way the walker came to the node. */
  int direction(int k) {
    return direction[k];
  }

  /** True where the walker can't have come from the node before along the line. */
  boolean jumped(int k) {
    return jumped[k];
  }

  private void collect() {
    int n = places.size();
    node = new int[n + 1];
    first = new int[n + 2];
    sigma = new double[Math.max(16, 2 * n)];
    square = new double[Math.max(16, 2 * n)];
    int at = 0;
    int last = -1;
    for (int i = 0; i < n; i++) {
      if (!places.usable(i) || !due(i, last, n)) continue;
      if (at + SimpleLine.MOST_CANDIDATES > sigma.length) {
        sigma = Arrays.copyOf(sigma, 2 * sigma.length + SimpleLine.MOST_CANDIDATES);
        square = Arrays.copyOf(square, sigma.length);
      }
      int found = simple.candidates(places.x[i], places.y[i], at, sigma, square);
      last = i;
      tried++;
      if (found == 0) continue;
      node[nodes] = i;
      first[nodes++] = at;
      at += found;
    }
    first[nodes] = at;
  }

  private boolean due(int i, int last, int n) {
    if (last < 0 || i == n - 1 || places.gap[i] || (i + 1 < n && places.gap[i + 1])) return true;
    if (places.timed()) return places.second(i) - places.second(last) >= NODE_S - 1e-3;
    return places.expected[i] - places.expected[last] >= NODE_M;
  }

  /** Half of the squares' median, as a robust variance of the distance from the line. */
  private double variance() {
    double[] nearest = new double[nodes];
    for (int k = 0; k < nodes; k++) {
      double least = Double.POSITIVE_INFINITY;
      for (int c = first[k]; c < first[k + 1]; c++) least = Math.min(least, square[c]);
      nearest[k] = least;
    }
    Arrays.sort(nearest);
    // 1.4826 turns a median absolute deviation into a normal's sigma.
    double robust = 1.4826 * Math.sqrt(nearest[nodes / 2]);
    double s = Math.max(LEAST_SIGMA_M, Math.min(MOST_SIGMA_M, robust));
    return s * s;
  }

  private void solve(Optional<Direction> hint) {
    double variance = variance();
    int states = 2 * first[nodes];
    byte[] back = new byte[states];
    double[] cost = new double[2 * SimpleLine.MOST_CANDIDATES];
    double[] next = new double[2 * SimpleLine.MOST_CANDIDATES];
    for (int c = first[0]; c < first[1]; c++)
      for (int d = 0; d < 2; d++)
        cost[2 * (c - first[0]) + d] = start(d, hint) + emission(0, c, variance);
    for (int k = 1; k < nodes; k++) {
      Step step = new Step(k);
      boolean traversed =
          places.expected[node[k - 1]] - places.expected[node[0]] > TRAVERSED * line.lengthM;
      // Nobody may start against the hint and turn at once.
      double early = hint.isPresent() ? AGAINST_HINT : TURN;
      int before = first[k - 1];
      int count = first[k] - before;
      for (int c = first[k]; c < first[k + 1]; c++) {
        double here = emission(k, c, variance);
        for (int d = 0; d < 2; d++) {
          double best = Double.POSITIVE_INFINITY;
          int from = 0;
          for (int b = 0; b < count; b++) {
            double move = step.cost(sigma[before + b], sigma[c], d);
            double turn = traversed ? turn(sigma[before + b]) : early;
            double straight = cost[2 * b + d] + move;
            double turned = cost[2 * b + 1 - d] + move + turn;
            if (straight < best) {
              best = straight;
              from = 2 * b + d;
            }
            if (turned < best) {
              best = turned;
              from = 2 * b + 1 - d;
            }
          }
          next[2 * (c - first[k]) + d] = best + here;
          back[2 * c + d] = (byte) from;
        }
      }
      double[] swap = cost;
      cost = next;
      next = swap;
    }
    trace(back, cost);
  }

  private static double start(int d, Optional<Direction> hint) {
    double cost = d == 0 ? 0 : REVERSE;
    if (hint.isPresent() && (hint.get() == Direction.FORWARD) != (d == 0)) cost += AGAINST_HINT;
    return cost;
  }

  private double turn(double chainageM) {
    if (line.closed) return TURN;
    return chainageM < AT_END_M || chainageM > line.lengthM - AT_END_M ? TURN_AT_END : TURN;
  }

  private double weight(int k) {
    if (k == 0) return 1;
    int i = node[k - 1];
    int j = node[k];
    double share =
        places.timed()
            ? (places.second(j) - places.second(i)) / SPAN_S
            : (places.expected[j] - places.expected[i]) / SPAN_M;
    return Math.max(0.05, Math.min(1, share));
  }

  private double emission(int k, int c, double variance) {
    double cost = Math.min(FARTHEST, square[c] / (2 * variance));
    if (!line.closed && (sigma[c] < -BEYOND_M || sigma[c] > line.lengthM + BEYOND_M))
      cost += BEYOND;
    return cost * weight(k);
  }

  /** One step from node to node: how far the walker is expected to have come. */
  private final class Step {
    final double expectedM;
    final double apartM;
    final boolean stoodPossible;
    final double stood;
    final double walked;

    Step(int k) {
      int i = node[k - 1];
      int j = node[k];
      expectedM = places.expected[j] - places.expected[i];
      apartM = places.apartM(i, j);
      boolean paused = false;
      for (int f = i + 1; f <= j; f++) paused |= places.paused[f];
      boolean isLong = !places.timed() || places.second(j) - places.second(i) > LONG_S;
      stoodPossible = paused || isLong;
      // A new segment is more often a pause than lost reception.
      stood = paused ? 0 : STOOD;
      walked = paused ? STOOD : 0;
    }

    double cost(double from, double to, int d) {
      double p = d == 0 ? to - from : from - to;
      double cost = walked + off(p, expectedM);
      if (stoodPossible) cost = Math.min(cost, stood + off(p, apartM));
      return Math.min(cost, JUMP);
    }

    private double off(double p, double wantedM) {
      double off = p - wantedM;
      if (line.closed) off -= line.lengthM * Math.rint(off / line.lengthM);
      return Math.abs(off) / (BETA_M + BETA_SHARE * wantedM);
    }

    /** The advance in direction d, laps included, that {@link #cost} chose. */
    double advance(double from, double to, int d) {
      double p = d == 0 ? to - from : from - to;
      if (!line.closed) return p;
      double wanted = expectedM;
      if (stoodPossible && stood + off(p, apartM) < walked + off(p, expectedM)) wanted = apartM;
      return p - line.lengthM * Math.rint((p - wanted) / line.lengthM);
    }
  }

  private void trace(byte[] back, double[] cost) {
    chainage = new double[nodes];
    direction = new int[nodes];
    jumped = new boolean[nodes];
    int[] chosen = new int[nodes];
    int state = 0;
    int count = 2 * (first[nodes] - first[nodes - 1]);
    for (int s = 1; s < count; s++) if (cost[s] < cost[state]) state = s;
    for (int k = nodes - 1; k >= 0; k--) {
      chosen[k] = first[k] + state / 2;
      direction[k] = state % 2 == 0 ? 1 : -1;
      state = back[2 * first[k] + state];
    }
    chainage[0] = sigma[chosen[0]];
    for (int k = 1; k < nodes; k++) {
      Step step = new Step(k);
      int d = direction[k] > 0 ? 0 : 1;
      double from = sigma[chosen[k - 1]];
      double to = sigma[chosen[k]];
      jumped[k] = step.cost(from, to, d) >= JUMP;
      chainage[k] = chainage[k - 1] + direction[k] * step.advance(from, to, d);
    }
  }
}
