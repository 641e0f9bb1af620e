package milewarden.geodesy;

/**
 * How far two walkers get apart at least who both go from the first to the last place of their
 * lines, place by place, and wait for each other as they like.
 *
 * @see "Eiter and Mannila (1994), Computing discrete Frechet distance, TU Vienna CD-TR 94/64"
 */
final class DiscreteFrechet {
  private DiscreteFrechet() {}

  /**
   * By dynamic programming, row after row; its cost is the product of both counts.
   *
   * @param ax and {@code ay}: places of one line in a plane, metres, one or more
   * @param bx and {@code by}: of the other
   * @return metres; by less than the longest step off the distance of the lines themselves
   */
  static double distanceM(double[] ax, double[] ay, double[] bx, double[] by) {
    double[] row = new double[bx.length];
    for (int i = 0; i < ax.length; i++) {
      // The cell of the row before, one place back.
      double diagonal = row[0];
      for (int j = 0; j < bx.length; j++) {
        double above = row[j];
        double reached;
        if (i == 0) reached = j == 0 ? 0 : row[j - 1];
        else if (j == 0) reached = above;
        else reached = Math.min(Math.min(above, diagonal), row[j - 1]);
        row[j] = Math.max(reached, Math.hypot(ax[i] - bx[j], ay[i] - by[j]));
        diagonal = above;
      }
    }
    return row[bx.length - 1];
  }
}
