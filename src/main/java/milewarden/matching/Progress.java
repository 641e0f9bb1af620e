package milewarden.matching;

import java.util.Optional;
import milewarden.course.Direction;
import milewarden.matching.line.CourseLine;
import milewarden.matching.line.SimpleLine;

/** Where on the line the walker was: the likeliest chain of candidates, and whether it is sure. */
final class Progress {
  private final Places places;
  private final CourseLine line;
  private final Nodes nodes;
  private final boolean directionSure;
  private final Chain chain;

  Progress(Places places, SimpleLine simple, Optional<Direction> hint) {
    this.places = places;
    line = simple.full();
    nodes = new Nodes(places, simple);
    Chain likeliest =
        new Chain(nodes, places, line, trellis(hint, false, Double.POSITIVE_INFINITY));
    if (hint.isPresent() || nodes.count() < 2) {
      chain = likeliest;
      directionSure = true;
      return;
    }
    Direction turned = likeliest.direction(1) > 0 ? Direction.REVERSE : Direction.FORWARD;
    // Who turns on the way is not on it the other way round.
    double mostCost = OtherWay.mostCost(nodes, likeliest) + Trellis.mostBeyond(nodes, line);
    Trellis trellis = trellis(Optional.of(turned), true, mostCost);
    if (trellis.dearer() || OtherWay.isNone(nodes, likeliest, trellis)) {
      chain = likeliest;
      directionSure = true;
      return;
    }
    Chain other = new Chain(nodes, places, line, trellis);
    double odds = OtherWay.odds(places, simple, likeliest, other);
    // The chain weighs errors node by node; the odds know that they last.
    chain = odds < 0 ? other : likeliest;
    directionSure = Math.abs(odds) > OtherWay.SURE;
  }

  private Trellis trellis(Optional<Direction> hint, boolean steadfast, double mostCost) {
    return new Trellis(nodes, places, line, hint, steadfast, mostCost);
  }

  /** The nodes with at least one candidate, in order of time. */
  int nodes() {
    return nodes.count();
  }

  /** Share of the places that have the line within reach. */
  double nearShare() {
    return nodes.count() / (double) Math.max(1, nodes.tried());
  }

  Chain chain() {
    return chain;
  }

  /** False where the positions fit the other way round as well, and nobody said which it was. */
  boolean directionSure() {
    return directionSure;
  }
}
