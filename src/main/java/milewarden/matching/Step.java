package milewarden.matching;

import milewarden.matching.line.CourseLine;

/**
 * The step from a node to the next one: how far the walker is expected to have come along the line,
 * and what it costs to believe in another advance. Costs are negative logarithms of likelihoods.
 */
final class Step {
  /** The most that a step costs: a jump to another place of the line. */
  static final double JUMP = 40;

  /** Scale of the difference between advance and expectation: metres, and share of the way. */
  private static final double BETA_M = 2;

  private static final double BETA_SHARE = 0.15;

  /** A step longer than this may have been stood through as well as walked. */
  private static final double LONG_S = 15;

  /** That it was, in spite of the speed before and after. */
  private static final double STOOD = 3;

  /** So far may noise put the return to the line before the place where the walker left it. */
  private static final double BACK_M = 60;

  private final CourseLine line;
  private final double expectedM;
  private final double apartM;
  private final double perExpected;
  private final double perApart;
  private final boolean away;
  private final boolean stoodPossible;
  private final double stood;
  private final double walked;

  Step(Nodes nodes, Places places, CourseLine line, int k) {
    this.line = line;
    int i = nodes.fix(k - 1);
    int j = nodes.fix(k);
    expectedM = places.expected[j] - places.expected[i];
    apartM = places.apartM(i, j);
    perExpected = 1 / (BETA_M + BETA_SHARE * expectedM);
    perApart = 1 / (BETA_M + BETA_SHARE * apartM);
    away = nodes.away(k);
    boolean paused = false;
    for (int f = i + 1; f <= j; f++) paused |= places.paused[f];
    boolean isLong = !places.timed() || places.second(j) - places.second(i) > LONG_S;
    stoodPossible = paused || isLong || away;
    // A new segment is more often a pause than lost reception; who was off the line may have come
    // back anywhere.
    stood = paused || away ? 0 : STOOD;
    walked = paused ? STOOD : 0;
  }

  /** Of an advance from one chainage to another, with (0) or against (1) the line's direction. */
  double cost(double fromM, double toM, int d) {
    double p = d == 0 ? toM - fromM : fromM - toM;
    double cost = walked + off(p, expectedM, perExpected);
    if (stoodPossible) cost = Math.min(cost, stood + off(p, apartM, perApart));
    return Math.min(cost, JUMP);
  }

  private double off(double p, double wantedM, double per) {
    return Math.abs(unrolled(p, wantedM) - wantedM) * per;
  }

  /** The advance on a closed line with the laps that bring it nearest to the wanted one. */
  private double unrolled(double p, double wantedM) {
    if (!line.closed()) return p;
    // Nobody runs laps of a line that the track shows them far away from.
    if (away) return p - line.lengthM() * Math.floor((p + backM()) / line.lengthM());
    return p - line.lengthM() * Math.rint((p - wantedM) / line.lengthM());
  }

  private double backM() {
    return Math.min(BACK_M, line.lengthM() / 4);
  }

  /** The advance in direction {@code d}, laps included, that {@link #cost} chose. */
  double advance(double fromM, double toM, int d) {
    double p = d == 0 ? toM - fromM : fromM - toM;
    boolean still =
        stoodPossible && stood + off(p, apartM, perApart) < walked + off(p, expectedM, perExpected);
    return unrolled(p, still ? apartM : expectedM);
  }
}
