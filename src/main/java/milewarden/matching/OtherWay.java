package milewarden.matching;

import java.util.Arrays;

/**
 * Whether the positions tell a run from the same run the other way round, on a course that comes
 * back beside itself.
 *
 * <p>Where the two chains of candidates lie apart by d, a place with the error u towards the other
 * chain is by d^2 + 2 u d (squared distances) nearer to the right one. The errors of neighbouring
 * places are not independent: of n places only n / (2 tau) count, with tau their correlation time
 * in places, taken from the errors themselves. The sum of the squares over 2 sigma^2 and over 2 tau
 * is then the logarithm of the odds. Tau is known roughly alone: of 600 runs on legs 6 m apart
 * under 8 m of noise that lasts 20 s, 434 were left open and one answer was wrong.
 */
final class OtherWay {
  /** Odds from which on the direction is said. */
  private static final double SURE = Math.log(1000);

  /** Nearer to each other the chains say nothing about the direction. */
  private static final double APART_M = 1;

  /** Smoothing makes nearer places alike: three nodes share a fix. */
  private static final double LEAST_SHARED = 3;

  /** Nodes between the errors that are compared: 15 s, well behind the smoothing. */
  private static final int LAG = 5;

  /** More than twice the standard error of white noise in the shortest course: errors last. */
  private static final double LASTING = 0.2;

  /** Those of a receiver last some 20 s, T: two T are shared, in nodes of 3 s. */
  private static final double LEAST_LASTING = 2 * 20 / 3.0;

  /** Errors that last longer than about five minutes can't be told from a shift of the line. */
  private static final double MOST_ALIKE = 0.95;

  private final double[] error;
  private final double odds;

  /**
   * @param found the likeliest chain
   * @param other the likeliest one that begins in the other direction
   */
  OtherWay(Nodes nodes, Places places, SimpleLine simple, Trellis found, Trellis other) {
    double[] errors = new double[nodes.count()];
    double[] a = new double[2];
    double[] b = new double[2];
    int n = 0;
    double squares = 0;
    for (int k = 0; k < nodes.count(); k++) {
      int c = found.chosen[k];
      int o = other.chosen[k];
      simple.point(nodes.chainage[c], a);
      simple.point(nodes.chainage[o], b);
      double dx = b[0] - a[0];
      double dy = b[1] - a[1];
      double d = Math.sqrt(dx * dx + dy * dy);
      if (d < APART_M) continue;
      int i = nodes.fix(k);
      errors[n++] = ((places.x[i] - a[0]) * dx + (places.y[i] - a[1]) * dy) / d;
      squares += nodes.square[o] - nodes.square[c];
    }
    error = Arrays.copyOf(errors, n);
    double steps = other.stepCost() - found.stepCost();
    double apart = n == 0 ? 0 : squares / (2 * covariance(0));
    // Neighbouring steps share their errors as places do.
    odds = (steps + apart) / shared();
  }

  /** True where nobody can say which way it was. */
  boolean possible() {
    return odds < SURE;
  }

  private double covariance(int lag) {
    double sum = 0;
    for (int i = lag; i < error.length; i++) sum += error[i] * error[i - lag];
    return sum / Math.max(1, error.length - lag);
  }

  /** How many neighbouring places share one error: 2 tau. */
  private double shared() {
    double alike = Math.min(MOST_ALIKE, covariance(LAG) / covariance(0));
    if (!(alike > LASTING)) return LEAST_SHARED;
    // A correlation time taken from a few minutes is too small as often as too large.
    return Math.max(LEAST_LASTING, -2 * LAG / Math.log(alike));
  }
}
