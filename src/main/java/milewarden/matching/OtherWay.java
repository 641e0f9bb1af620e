package milewarden.matching;

import milewarden.matching.line.SimpleLine;

/**
 * Whether the positions tell a run from the same run the other way round, on a course that comes
 * back beside itself.
 *
 * <p>What differs is the error across the line that each of the two ways leaves: both are weighed
 * as a series that lasts (see {@link LastingErrors}), through the turn as well, for who turns right
 * is seen to turn right. When exactly the walker turned is not known: the mean over shifts along
 * the line. On two legs of 400 m, 6 m apart, no rule can settle all: where the noise of 8 m on each
 * axis lasts 20 s, the exact likelihood with the turn known to 4 s is on the wrong side in 4.6 of
 * 100 recordings (independent simulation of it in numpy), and in 2.5 if the noise and the second of
 * the turn are known as well.
 */
final class OtherWay {
  /** Logarithm of the odds from which on the direction is said: wrong in fewer than one of 1000. */
  static final double SURE = Math.log(200);

  /** Nearer to each other the ways say nothing about the direction. */
  private static final double APART_M = 1;

  /** A walker's speed, for tracks without times. */
  private static final double MPS = 1.5;

  /** Steps share the errors of the places: two correlation times of 20 s, in nodes of 3 s. */
  private static final double SHARED = 2 * 20 / 3.0;

  /** So many times {@link #SURE} nobody needs to weigh exactly. */
  private static final double PLAIN = 10;

  /** A fix further than this from its smoothed place jumped. */
  private static final double JUMP_M = 25;

  /** How far the chain may be astray along the line where the walker turned. */
  private static final double SHIFT_M = 8;

  private static final int SHIFTS = 3;

  /** The pace is taken over this before and behind. */
  private static final double STEADY_S = 30;

  private final Places places;
  private final SimpleLine simple;
  private final double[] ofFound;
  private final double[] ofOther;
  private final double[] seconds;

  private OtherWay(Places places, SimpleLine simple) {
    this.places = places;
    this.simple = simple;
    ofFound = new double[places.size()];
    ofOther = new double[places.size()];
    seconds = new double[places.size()];
  }

  /**
   * A way whose steps and distances from the line cost more than this is none; distances as their
   * squares have it.
   */
  static double mostCost(Nodes nodes, Chain found) {
    double squares = 0;
    for (int k = 0; k < nodes.count(); k++) squares += found.squareM2(k);
    // What roundings could do, by far.
    double more = 1;
    return found.stepCost() + squares / (2 * nodes.variance) + PLAIN * SURE * SHARED + more;
  }

  /** True where the other way is so much less likely that nobody need weigh it. */
  static boolean isNone(Nodes nodes, Chain found, Trellis other) {
    double steps = other.stepCost() - found.stepCost();
    double squares = 0;
    for (int k = 0; k < nodes.count(); k++)
      squares += nodes.square[other.chosen[k]] - found.squareM2(k);
    double plain = (steps + squares / (2 * nodes.variance)) / SHARED;
    // A way that needs a jump or a turn on the way is none.
    return steps >= Step.JUMP || plain > PLAIN * SURE;
  }

  /** The logarithm of the odds of one way against another. */
  static double odds(Places places, SimpleLine simple, Chain found, Chain other) {
    return new OtherWay(places, simple).odds(found, other);
  }

  private double odds(Chain found, Chain other) {
    double[] a = steady(found.spread(), found.direction(1));
    double[] b = steady(other.spread(), other.direction(1));
    double[] likelihoods = new double[2 * (2 * SHIFTS + 1)];
    int at = 0;
    for (int s = -SHIFTS; s <= SHIFTS; s++) {
      int n = errors(a, found.direction(1), b, other.direction(1), SHIFT_M * s / SHIFTS);
      if (n == 0) return 0;
      likelihoods[at] = LastingErrors.logLikelihood(ofFound, seconds, n);
      likelihoods[at + likelihoods.length / 2] = LastingErrors.logLikelihood(ofOther, seconds, n);
      at++;
    }
    return LastingErrors.logMean(likelihoods, 0, at)
        - LastingErrors.logMean(likelihoods, at, 2 * at);
  }

  /** The place by a steady pace: the mean over a minute of what the chain is ahead of the pace. */
  private double[] steady(double[] place, int d) {
    int n = place.length;
    double[] sum = new double[n + 1];
    for (int i = 0; i < n; i++) sum[i + 1] = sum[i] + place[i] - d * places.expected[i];
    double[] out = new double[n];
    int from = 0;
    int to = 0;
    for (int i = 0; i < n; i++) {
      double t = second(i);
      while (t - second(from) > STEADY_S) from++;
      while (to + 1 < n && second(to + 1) - t <= STEADY_S) to++;
      // As far back as ahead, for the pace is not known that well.
      int half = Math.min(i - from, to - i);
      out[i] = d * places.expected[i] + (sum[i + half + 1] - sum[i - half]) / (2 * half + 1);
    }
    return out;
  }

  private double second(int i) {
    return places.timed() ? places.second(i) : places.expected[i] / MPS;
  }

  /** The errors across that the two ways leave, shifted along each; returns how many. */
  private int errors(double[] a, int da, double[] b, int db, double shiftM) {
    double[] pa = new double[2];
    double[] pb = new double[2];
    double ax = 0;
    double ay = 0;
    int n = 0;
    for (int i = 0; i < a.length; i++) {
      if (!places.usable(i) || Double.isNaN(places.rawX[i])) continue;
      simple.point(a[i] + da * shiftM, pa);
      simple.point(b[i] + db * shiftM, pb);
      double dx = pb[0] - pa[0];
      double dy = pb[1] - pa[1];
      double d = Math.sqrt(dx * dx + dy * dy);
      if (d < APART_M) continue;
      double jx = places.rawX[i] - places.x[i];
      double jy = places.rawY[i] - places.y[i];
      if (jx * jx + jy * jy > JUMP_M * JUMP_M) continue;
      // The axis across keeps its side where the ways change theirs: the error goes on.
      double sign = dx * ax + dy * ay < 0 ? -1 : 1;
      ax = sign * dx / d;
      ay = sign * dy / d;
      ofFound[n] = (places.rawX[i] - pa[0]) * ax + (places.rawY[i] - pa[1]) * ay;
      ofOther[n] = ofFound[n] - sign * d;
      seconds[n++] = second(i);
    }
    return n;
  }
}
