package milewarden.matching;

import milewarden.matching.line.CourseLine;

/**
 * A way along the line, node by node: a chain of candidates unrolled over laps and free of the
 * steps back that only noise makes.
 */
final class Chain {
  private final Places places;
  private final CourseLine line;
  private final Nodes nodes;
  private final Trellis trellis;
  private final double[] chainage;
  private final boolean[] jumped;

  Chain(Nodes nodes, Places places, CourseLine line, Trellis trellis) {
    this.nodes = nodes;
    this.places = places;
    this.line = line;
    this.trellis = trellis;
    chainage = new double[nodes.count()];
    jumped = new boolean[nodes.count()];
    unroll();
    smooth();
  }

  private void unroll() {
    for (int k = 0; k < chainage.length; k++) {
      double to = candidateM(k);
      if (k == 0) {
        chainage[0] = to;
        continue;
      }
      Step step = new Step(nodes, places, line, k);
      int d = direction(k) > 0 ? 0 : 1;
      double from = candidateM(k - 1);
      jumped[k] = step.cost(from, to, d) >= Step.JUMP;
      chainage[k] = chainage[k - 1] + direction(k) * step.advance(from, to, d);
    }
  }

  private void smooth() {
    int from = 0;
    for (int k = 1; k <= chainage.length; k++) {
      if (k < chainage.length && !jumped[k] && direction(k) == direction(k - 1)) continue;
      Rising.make(chainage, from, k, direction(k - 1));
      from = k;
    }
  }

  /** The nodes with at least one candidate, in order of time. */
  int nodes() {
    return chainage.length;
  }

  /** The fix of a node. */
  int fix(int k) {
    return nodes.fix(k);
  }

  /** Unrolled chainage of a node; in its direction it never falls. */
  double chainageM(int k) {
    return chainage[k];
  }

  /** Chainage of the candidate that was chosen for a node, as the noise has it. */
  double candidateM(int k) {
    return nodes.chainage[trellis.chosen[k]];
  }

  /** Squared distance of a node's place from the line, square metres. */
  double squareM2(int k) {
    return nodes.square[trellis.chosen[k]];
  }

  /** 1 or -1: which way the walker came to the node. */
  int direction(int k) {
    return trellis.direction[k];
  }

  /** True where the walker can't have come from the node before along the line. */
  boolean jumped(int k) {
    return jumped[k];
  }

  /** What the steps and turns cost, without the distances from the line. */
  double stepCost() {
    return trellis.stepCost();
  }

  /** The chainage of every fix, between nodes by the distance expected between them. */
  double[] spread() {
    int n = places.size();
    double[] place = new double[n];
    int k = 0;
    int last = nodes() - 1;
    for (int i = 0; i < n; i++) {
      while (k < last && fix(k + 1) <= i) k++;
      int a = fix(k);
      if (i <= a || k == last) {
        place[i] = chainage[k];
        continue;
      }
      int b = fix(k + 1);
      double way = places.expected[b] - places.expected[a];
      double t =
          way > 0 ? (places.expected[i] - places.expected[a]) / way : (i - a) / (double) (b - a);
      place[i] = chainage[k] + t * (chainage[k + 1] - chainage[k]);
    }
    return place;
  }
}
