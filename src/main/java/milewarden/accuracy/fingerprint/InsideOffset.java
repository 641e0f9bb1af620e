package milewarden.accuracy.fingerprint;

import java.util.Arrays;

/**
 * How far inside of the line that a pass follows a device runs whose positions come through a
 * first-order filter of lag T. Keeps room for what it works out: one thread, one pass.
 *
 * <p>The walker goes along the line at the speed of the pass; the filter T dy/dt + y = x follows;
 * its distance from the line at its foot is the inside offset. On a circle that is R (1 - 1 /
 * sqrt(1 + (v T / R)^2)) (DOMAIN.md section 3), and in short bends and corners it is what builds up
 * there and dies away behind. A filter that carries a speed along runs outside instead.
 */
final class InsideOffset {
  /** Places worked on at once: what is needed of them stays near the processor. */
  private static final int BLOCK = 256;

  private final double stepM;
  private final double[] stepS;
  // Of each place of the line: east, north; its direction.
  private final double[] x;
  private final double[] y;
  private final double[] sin;
  private final double[] cos;

  private final double[] keep = new double[BLOCK];
  private final double[] gain = new double[BLOCK];
  private final int[] guess = new int[BLOCK];
  private final Trail lag = new Trail();
  private final Trail ahead = new Trail();

  /** East, north and number of the place of each step of a block. */
  private static final class Trail {
    final double[] x = new double[BLOCK];
    final double[] y = new double[BLOCK];
    final double[] at = new double[BLOCK];
  }

  /** East, north and number of the place where a filter stands. */
  private static final class State {
    double x;
    double y;
    double at;

    State(double x, double y) {
      this.x = x;
      this.y = y;
    }
  }

  InsideOffset(FollowedLine line) {
    stepM = line.stepM();
    stepS = line.stepsS();
    double[][] direction = line.sineAndCosine();
    sin = direction[0];
    cos = direction[1];
    x = new double[sin.length];
    y = new double[sin.length];
    for (int i = 1; i < x.length; i++) {
      x[i] = x[i - 1] + stepM * (sin[i] + sin[i - 1]) / 2;
      y[i] = y[i - 1] + stepM * (cos[i] + cos[i - 1]) / 2;
    }
  }

  int size() {
    return x.length;
  }

  /**
   * Offset to the right of the line, metres, by the foot, of a device with this lag; and of one
   * that carries a speed along, with both poles of its filter at this time: (2 T s + 1) / (T s +
   * 1)^2, which is twice a lag less the lag of the lag. An array of no length isn't asked for.
   *
   * @param timeS above 0
   */
  void of(double timeS, double[] lagged, double[] carried) {
    Arrays.fill(lagged, 0);
    Arrays.fill(carried, 0);
    State once = new State(x[0], y[0]);
    State again = new State(x[0], y[0]);
    for (int from = 1; from < x.length; from += BLOCK) {
      int n = Math.min(BLOCK, x.length - from);
      weights(from, n, 2 * timeS);
      if (carried.length > 0) follow(from, n, once, again);
      else follow(from, n, once);
      if (lagged.length > 0) feet(lag, n, lagged);
      if (carried.length > 0) feet(ahead, n, carried);
    }
  }

  /** The bilinear rule: exact to the third order of step over time. */
  private void weights(int from, int n, double twiceS) {
    for (int j = 0; j < n; j++) {
      double r = stepS[from + j] / twiceS;
      double share = 1 / (1 + r);
      keep[j] = (1 - r) * share;
      gain[j] = r * share;
    }
  }

  private void follow(int from, int n, State once) {
    double x1 = once.x;
    double y1 = once.y;
    double at1 = once.at;
    for (int j = 0; j < n; j++) {
      int i = from + j;
      double k = keep[j];
      double g = gain[j];
      x1 = k * x1 + g * (x[i] + x[i - 1]);
      y1 = k * y1 + g * (y[i] + y[i - 1]);
      at1 = k * at1 + g * (2 * i - 1);
      lag.x[j] = x1;
      lag.y[j] = y1;
      lag.at[j] = at1;
    }
    once.x = x1;
    once.y = y1;
    once.at = at1;
  }

  /** Both filters side by side: six sums wait no longer than three. */
  private void follow(int from, int n, State once, State again) {
    double x1 = once.x;
    double y1 = once.y;
    double at1 = once.at;
    double x2 = again.x;
    double y2 = again.y;
    double at2 = again.at;
    for (int j = 0; j < n; j++) {
      int i = from + j;
      double k = keep[j];
      double g = gain[j];
      double beforeX = x1;
      double beforeY = y1;
      double beforeAt = at1;
      x1 = k * x1 + g * (x[i] + x[i - 1]);
      y1 = k * y1 + g * (y[i] + y[i - 1]);
      at1 = k * at1 + g * (2 * i - 1);
      x2 = k * x2 + g * (x1 + beforeX);
      y2 = k * y2 + g * (y1 + beforeY);
      at2 = k * at2 + g * (at1 + beforeAt);
      lag.x[j] = x1;
      lag.y[j] = y1;
      lag.at[j] = at1;
      ahead.x[j] = x1 + (x1 - x2);
      ahead.y[j] = y1 + (y1 - y2);
      ahead.at[j] = at1 + (at1 - at2);
    }
    once.x = x1;
    once.y = y1;
    once.at = at1;
    again.x = x2;
    again.y = y2;
    again.at = at2;
  }

  private void feet(Trail of, int n, double[] out) {
    // In two turns: together they take twice as long.
    int last = x.length - 1;
    for (int j = 0; j < n; j++) guess[j] = Math.max(0, Math.min(last, (int) Math.rint(of.at[j])));
    double half = stepM / 2;
    int before = 0;
    double offset = 0;
    for (int j = 0; j < n; j++) {
      int k = guess[j];
      double dx = of.x[j] - x[k];
      double dy = of.y[j] - y[k];
      if (Math.abs(dx * sin[k] + dy * cos[k]) > half) {
        k = foot(of.x[j], of.y[j], k);
        dx = of.x[j] - x[k];
        dy = of.y[j] - y[k];
      }
      boolean next = k == before + 1 && offset != 0;
      offset = dx * cos[k] - dy * sin[k];
      out[k] = offset;
      if (!next) fill(out, k);
      before = k;
    }
  }

  /** Where the foot skips a place, it is as at the place before. */
  private static void fill(double[] out, int k) {
    for (int m = k - 1; m > 0 && out[m] == 0 && k - m < 4; m--) out[m] = out[k];
  }

  private int foot(double px, double py, int guess) {
    int k = guess;
    for (int turn = 0; turn < 4; turn++) {
      double ahead = (px - x[k]) * sin[k] + (py - y[k]) * cos[k];
      int move = (int) Math.rint(ahead / stepM);
      if (move == 0) break;
      k = Math.max(0, Math.min(x.length - 1, k + move));
    }
    return k;
  }
}
