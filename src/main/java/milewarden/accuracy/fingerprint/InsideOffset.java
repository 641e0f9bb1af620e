package milewarden.accuracy.fingerprint;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import milewarden.accuracy.noise.MatchedPoints;

/**
 * The line that a pass follows, drawn evenly in a plane, and how far inside of it a device runs
 * whose positions come through a first-order filter of lag T.
 *
 * <p>The walker goes along the line at the speed of the pass; the filter T dy/dt + y = x follows;
 * its distance from the line at its foot is the inside offset. On a circle that is R (1 - 1 /
 * sqrt(1 + (v T / R)^2)) (DOMAIN.md section 3), and in short bends and corners it is what builds up
 * there and dies away behind. A filter that carries a speed along runs outside instead.
 */
final class InsideOffset {
  // Finer than a second of walking, coarser than a stride.
  private static final double LEAST_STEP_M = 1;
  private static final double MOST_STEP_M = 3;
  // Ahead of the first and behind the last point, metres.
  private static final double MARGIN_M = 60;
  // Speed is that over as many seconds: noise of some metres is far below the way gone.
  private static final double SPEED_OVER_S = 20;
  // ENGINE section 6: standing.
  private static final double LEAST_MPS = 0.3;

  private final double fromM;
  private final double stepM;
  private final double[] x;
  private final double[] y;
  private final double[] sin;
  private final double[] cos;
  private final double[] heading;
  private final double[] stepS;
  private final double meanMps;
  private boolean drawn;

  /**
   * @param points of the pass, with times
   * @param headingRad of the direction of travel, clockwise from north, unwound, at a chainage of
   *     the points
   */
  InsideOffset(MatchedPoints points, DoubleUnaryOperator headingRad) {
    double low = Arrays.stream(points.placeM()).min().orElseThrow() - MARGIN_M;
    double high = Arrays.stream(points.placeM()).max().orElseThrow() + MARGIN_M;
    int n = points.size();
    double seconds = points.second()[n - 1] - points.second()[0];
    meanMps = (points.placeM()[n - 1] - points.placeM()[0]) / seconds;
    stepM = Math.max(LEAST_STEP_M, Math.min(MOST_STEP_M, meanMps / 2));
    fromM = low;
    int size = (int) ((high - low) / stepM) + 2;
    x = new double[size];
    y = new double[size];
    sin = new double[size];
    cos = new double[size];
    heading = new double[size];
    for (int i = 0; i < size; i++) {
      heading[i] = headingRad.applyAsDouble(low + i * stepM);
    }
    stepS = times(points, size);
  }

  /** The line in the plane; without bends nobody asks for it. */
  private void draw() {
    if (drawn) return;
    drawn = true;
    for (int i = 0; i < x.length; i++) {
      sin[i] = Math.sin(heading[i]);
      cos[i] = Math.cos(heading[i]);
      if (i == 0) continue;
      x[i] = x[i - 1] + stepM * (sin[i] + sin[i - 1]) / 2;
      y[i] = y[i - 1] + stepM * (cos[i] + cos[i - 1]) / 2;
    }
  }

  /** Seconds for each step of the line, by the speed around it. */
  private double[] times(MatchedPoints points, int size) {
    double[] out = new double[size];
    double[] place = points.placeM();
    double[] second = points.second();
    int j = 0;
    int a = 0;
    int b = 0;
    int last = points.size() - 1;
    for (int i = 0; i < size; i++) {
      double at = fromM + i * stepM;
      while (j < last && place[j] < at) j++;
      while (a < j && second[j] - second[a] > SPEED_OVER_S / 2) a++;
      while (b < last && second[b] - second[j] < SPEED_OVER_S / 2) b++;
      double dt = second[b] - second[a];
      double v = dt > 0 ? (place[b] - place[a]) / dt : meanMps;
      out[i] = stepM / Math.max(LEAST_MPS, v);
    }
    return out;
  }

  double meanMps() {
    return meanMps;
  }

  int size() {
    return x.length;
  }

  double stepM() {
    return stepM;
  }

  double headingRad(int i) {
    return heading[i];
  }

  /** Turn per metre, right positive. */
  double[] curvature() {
    double[] out = new double[size()];
    for (int i = 1; i + 1 < out.length; i++)
      out[i] = (heading[i + 1] - heading[i - 1]) / (2 * stepM);
    return out;
  }

  /** Offset to the right of the line, metres, of a device with this lag, by its foot. */
  double[] lagged(double lagS) {
    return filtered(lagS, 0);
  }

  /**
   * The same of a device that carries a speed along, with both poles of its filter at this time: (2
   * T s + 1) / (T s + 1)^2, which is twice a lag less the lag of the lag.
   */
  double[] carried(double timeS) {
    return filtered(timeS, 1);
  }

  /**
   * A first-order filter of the place, and what is added of its difference to the filter of that.
   *
   * @param timeS above 0
   */
  private double[] filtered(double timeS, double ahead) {
    draw();
    double[] out = new double[size()];
    // East, north and number of the place, behind one filter and behind two.
    double x1 = x[0];
    double y1 = y[0];
    double i1 = 0;
    double x2 = x1;
    double y2 = y1;
    double i2 = 0;
    for (int i = 1; i < out.length; i++) {
      // The bilinear rule: exact to the third order of step over time.
      double r = stepS[i] / (2 * timeS);
      double share = 1 / (1 + r);
      double keep = (1 - r) * share;
      double gain = r * share;
      double beforeX = x1;
      double beforeY = y1;
      double beforeI = i1;
      x1 = keep * x1 + gain * (x[i] + x[i - 1]);
      y1 = keep * y1 + gain * (y[i] + y[i - 1]);
      i1 = keep * i1 + gain * (2 * i - 1);
      double px = x1;
      double py = y1;
      double at = i1;
      if (ahead != 0) {
        x2 = keep * x2 + gain * (x1 + beforeX);
        y2 = keep * y2 + gain * (y1 + beforeY);
        i2 = keep * i2 + gain * (i1 + beforeI);
        px += ahead * (x1 - x2);
        py += ahead * (y1 - y2);
        at += ahead * (i1 - i2);
      }
      int k = foot(px, py, (int) Math.rint(at));
      out[k] = (px - x[k]) * cos[k] - (py - y[k]) * sin[k];
      // Where the foot skips a place, it is as at the place before.
      for (int m = k - 1; m > 0 && out[m] == 0 && k - m < 4; m--) out[m] = out[k];
    }
    return out;
  }

  private int foot(double px, double py, int guess) {
    int k = Math.max(0, Math.min(size() - 1, guess));
    for (int turn = 0; turn < 4; turn++) {
      double ahead = (px - x[k]) * sin[k] + (py - y[k]) * cos[k];
      int move = (int) Math.rint(ahead / stepM);
      if (move == 0) break;
      k = Math.max(0, Math.min(size() - 1, k + move));
    }
    return k;
  }

  /** Values along the line, spread by errors along it of this standard deviation. */
  double[] spread(double[] values, double sigmaM) {
    // Three running means of w places have the variance (w^2 - 1) / 4.
    int half = (int) Math.rint((Math.sqrt(4 * sigmaM * sigmaM / (stepM * stepM) + 1) - 1) / 2);
    double[] out = values;
    for (int turn = 0; turn < 3 && half > 0; turn++) out = runningMean(out, half);
    return out;
  }

  private static double[] runningMean(double[] values, int half) {
    int n = values.length;
    double[] out = new double[n];
    double per = 1.0 / (2 * half + 1);
    double sum = 0;
    for (int i = 0; i < Math.min(half, n); i++) sum += values[i];
    for (int i = 0; i < n; i++) {
      if (i + half < n) sum += values[i + half];
      if (i > half) sum -= values[i - half - 1];
      out[i] = sum * per;
    }
    return out;
  }

  /** The value at a chainage of the points. */
  double at(double[] values, double chainageM) {
    double p = (chainageM - fromM) / stepM;
    int i = (int) p;
    if (p < 0 || i + 1 >= values.length) return p < 0 ? values[0] : values[values.length - 1];
    return values[i] + (p - i) * (values[i + 1] - values[i]);
  }
}
