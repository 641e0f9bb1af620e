package milewarden.simulator;

/**
 * Gains of an alpha-beta filter that runs on the positions once a second: it carries a speed along,
 * so that it runs on where the way turns, and is not late where it goes straight.
 *
 * <p>On a circle travelled at an even speed the radius grows by |H|, H(z) = (alpha + (beta - alpha)
 * / z) / (1 - (2 - alpha - beta) / z + (1 - alpha) / z^2) at z = exp(i v T / R), DERIVED from the
 * two equations of the filter; for slow turns by a T^2 (1 - alpha) / beta, a = v^2 / R.
 *
 * @param alpha share of the innovation that corrects the position, between 0 and 1
 * @param beta share of it that corrects the way gone in a second, above 0 and below 4 - 2 alpha
 * @see "Penoyer (1993), The alpha-beta filter, C Users Journal 11(7), for the filter"
 */
public record Tracker(double alpha, double beta) {
  /** T, seconds between two steps of the filter. */
  static final double STEP_S = 1;

  public Tracker {
    if (!(alpha > 0 && alpha < 1)) throw new IllegalArgumentException("alpha: " + alpha);
    if (!(beta > 0 && beta < 4 - 2 * alpha)) throw new IllegalArgumentException("beta: " + beta);
  }

  /**
   * Critically damped: both poles of the filter lie at {@code memory}.
   *
   * @param memory 0 to 1, the larger the smoother
   * @see "Brookner (1998), Tracking and Kalman Filtering Made Easy, fading memory; from memory"
   */
  public static Tracker critical(double memory) {
    return new Tracker(1 - memory * memory, (1 - memory) * (1 - memory));
  }

  /**
   * The best in the long run for a speed that changes at random: beta = 2 (2 - alpha) - 4 sqrt(1 -
   * alpha).
   *
   * @see "Kalata (1984), The tracking index, IEEE Trans. Aerospace and Electronic Systems 20,
   *     174-182; from memory"
   */
  public static Tracker optimal(double alpha) {
    return new Tracker(alpha, 2 * (2 - alpha) - 4 * Math.sqrt(1 - alpha));
  }
}
