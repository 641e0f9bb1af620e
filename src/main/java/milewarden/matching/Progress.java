package milewarden.matching;

import java.util.Optional;
import milewarden.course.Direction;

/**
 * Where on the line the walker was, node by node: the likeliest chain of candidates, unrolled over
 * laps and free of the steps back that only noise makes.
 */
final class Progress {
  private final Places places;
  private final CourseLine line;
  private final Nodes nodes;
  private final Trellis trellis;
  private final double[] chainage;
  private final boolean[] jumped;
  private final boolean directionSure;

  Progress(Places places, SimpleLine simple, Optional<Direction> hint) {
    this.places = places;
    line = simple.line;
    nodes = new Nodes(places, simple);
    trellis = new Trellis(nodes, places, line, hint);
    chainage = new double[nodes.count()];
    jumped = new boolean[nodes.count()];
    directionSure = hint.isPresent() || nodes.count() < 2 || sure(simple);
    unroll();
    smooth();
  }

  /** The nodes with at least one candidate, in order of time. */
  int nodes() {
    return nodes.count();
  }

  /** Share of the places that have the line within reach. */
  double nearShare() {
    return nodes.count() / (double) Math.max(1, nodes.tried());
  }

  /** The fix of a node. */
  int fix(int k) {
    return nodes.fix(k);
  }

  /** Unrolled chainage of a node; in its direction it never falls. */
  double chainageM(int k) {
    return chainage[k];
  }

  /** 1 or -1: which way the walker came to the node. */
  int direction(int k) {
    return trellis.direction[k];
  }

  /** True where the walker can't have come from the node before along the line. */
  boolean jumped(int k) {
    return jumped[k];
  }

  /** False where the positions fit the other way round as well, and nobody said which it was. */
  boolean directionSure() {
    return directionSure;
  }

  private boolean sure(SimpleLine simple) {
    Direction turned = direction(1) > 0 ? Direction.REVERSE : Direction.FORWARD;
    Trellis other = new Trellis(nodes, places, line, Optional.of(turned));
    return !new OtherWay(nodes, places, simple, trellis, other).possible();
  }

  private void unroll() {
    for (int k = 0; k < chainage.length; k++) {
      double to = nodes.chainage[trellis.chosen[k]];
      if (k == 0) {
        chainage[0] = to;
        continue;
      }
      Step step = new Step(nodes, places, line, k);
      int d = direction(k) > 0 ? 0 : 1;
      double from = nodes.chainage[trellis.chosen[k - 1]];
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
}
