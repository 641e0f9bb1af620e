package milewarden.matching;

import java.util.Arrays;
import milewarden.matching.line.SimpleLine;

/**
 * The places of a track that are looked for on the line, one every 3 s, each with the candidates:
 * where on the line the walker may have been. Places with no candidate are left out.
 */
final class Nodes {
  /** Between nodes; three nodes share the span over which places are smoothed. */
  private static final double NODE_S = 3;

  /** Between nodes of a track without times. */
  private static final double NODE_M = 5;

  /** So many places out of reach in a row are off the line, not astray: the engine's 10 s. */
  private static final int AWAY = 4;

  private static final double LEAST_SIGMA_M = 4;
  private static final double MOST_SIGMA_M = 15;
  // A median square that surely gives no more than the least sigma: (4 / 1.4826)^2 is 7.28.
  private static final double SURELY_LEAST_M2 = 7;

  // Enough for a median to be right to a few percent.
  private static final int MOST_SAMPLED = 500;

  private final Places places;
  private int count;
  private int tried;
  private final int[] fix;
  private final boolean[] away;

  /** The first candidate of each node, and behind the last node their number. */
  final int[] first;

  /** Of each candidate: its chainage, from 0 to L on a closed line, metres. */
  double[] chainage;

  /** Of each candidate: its squared distance from the place, square metres. */
  double[] square;

  /** Of the distance from the line, square metres. */
  final double variance;

  Nodes(Places places, SimpleLine simple) {
    this.places = places;
    int n = places.size();
    fix = new int[n];
    away = new boolean[n];
    first = new int[n + 1];
    chainage = new double[n + SimpleLine.MOST_CANDIDATES];
    square = new double[n + SimpleLine.MOST_CANDIDATES];
    collect(simple);
    variance = count == 0 ? 0 : variance();
  }

  /** The nodes with at least one candidate, in order of time. */
  int count() {
    return count;
  }

  /** The places that were asked for candidates; at least {@link #count}. */
  int tried() {
    return tried;
  }

  /** The fix of a node. */
  int fix(int k) {
    return fix[k];
  }

  /** True where the walker was out of the line's reach between the node before and this one. */
  boolean away(int k) {
    return away[k];
  }

  private void collect(SimpleLine simple) {
    int n = places.size();
    int at = 0;
    int last = -1;
    int lost = 0;
    for (int i = 0; i < n; i++) {
      if (!places.usable(i) || !due(i, last, n)) continue;
      if (at + SimpleLine.MOST_CANDIDATES > chainage.length) {
        chainage = Arrays.copyOf(chainage, 2 * chainage.length);
        square = Arrays.copyOf(square, chainage.length);
      }
      int found = simple.candidates(places.x[i], places.y[i], at, chainage, square);
      last = i;
      tried++;
      if (found == 0) {
        lost++;
        continue;
      }
      fix[count] = i;
      away[count] = count > 0 && lost >= AWAY;
      lost = 0;
      first[count++] = at;
      at += found;
    }
    first[count] = at;
  }

  private boolean due(int i, int last, int n) {
    if (last < 0 || i == n - 1 || places.gap[i] || (i + 1 < n && places.gap[i + 1])) return true;
    if (places.timed()) return places.second(i) - places.second(last) >= NODE_S - 1e-3;
    return places.expected[i] - places.expected[last] >= NODE_M;
  }

  /** A robust variance of the distance from the line, by the median of the nearest candidates. */
  private double variance() {
    int every = Math.max(1, count / MOST_SAMPLED);
    double[] nearest = new double[(count + every - 1) / every];
    for (int s = 0; s < nearest.length; s++) {
      int k = s * every;
      double least = Double.POSITIVE_INFINITY;
      for (int c = first[k]; c < first[k + 1]; c++) least = Math.min(least, square[c]);
      nearest[s] = least;
    }
    int low = 0;
    for (double square : nearest) if (square <= SURELY_LEAST_M2) low++;
    // Of distances that short the median is one of them: nothing need be sorted.
    if (low > nearest.length / 2) return LEAST_SIGMA_M * LEAST_SIGMA_M;
    Arrays.sort(nearest);
    // 1.4826 turns a median absolute deviation into a normal's sigma.
    double robust = 1.4826 * Math.sqrt(nearest[nearest.length / 2]);
    double s = Math.max(LEAST_SIGMA_M, Math.min(MOST_SIGMA_M, robust));
    return s * s;
  }
}
