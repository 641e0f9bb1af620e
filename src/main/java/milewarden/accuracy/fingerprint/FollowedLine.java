package milewarden.accuracy.fingerprint;

import java.util.Arrays;
import java.util.function.UnaryOperator;
import milewarden.accuracy.noise.MatchedPoints;

/**
 * The line that a pass follows, in even steps, with the time that each took at the pass's speed.
 */
final class FollowedLine {
  // Finer than a second of walking, coarser than a stride.
  private static final double LEAST_STEP_M = 1;
  private static final double MOST_STEP_M = 3;
  // Ahead of the first and behind the last point, metres.
  private static final double MARGIN_M = 60;
  // Speed is that over as many seconds: noise of some metres is far below the way gone.
  private static final double SPEED_OVER_S = 20;
  // ENGINE section 6: standing.
  private static final double LEAST_MPS = 0.3;

  private final MatchedPoints points;
  private final double fromM;
  private final double stepM;
  private final double[] heading;
  private final double meanMps;

  /**
   * @param points of the pass, with times
   * @param headingsRad of the direction of travel, clockwise from north, unwound, at chainages of
   *     the points
   */
  FollowedLine(MatchedPoints points, UnaryOperator<double[]> headingsRad) {
    this.points = points;
    double low = Arrays.stream(points.placeM()).min().orElseThrow() - MARGIN_M;
    double high = Arrays.stream(points.placeM()).max().orElseThrow() + MARGIN_M;
    int n = points.size();
    double seconds = points.second()[n - 1] - points.second()[0];
    meanMps = (points.placeM()[n - 1] - points.placeM()[0]) / seconds;
    stepM = Math.max(LEAST_STEP_M, Math.min(MOST_STEP_M, meanMps / 2));
    fromM = low;
    double[] at = new double[(int) ((high - low) / stepM) + 2];
    for (int i = 0; i < at.length; i++) at[i] = low + i * stepM;
    heading = headingsRad.apply(at);
  }

  double meanMps() {
    return meanMps;
  }

  int size() {
    return heading.length;
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

  /** Sine and cosine of headings, one behind the other; of runs of one heading taken once. */
  static double[][] sineAndCosine(double[] heading) {
    double[] sin = new double[heading.length];
    double[] cos = new double[heading.length];
    for (int i = 0; i < heading.length; i++) {
      boolean same = i > 0 && heading[i] == heading[i - 1];
      sin[i] = same ? sin[i - 1] : Math.sin(heading[i]);
      cos[i] = same ? cos[i - 1] : Math.cos(heading[i]);
    }
    return new double[][] {sin, cos};
  }

  double[][] sineAndCosine() {
    return sineAndCosine(heading);
  }

  /** Seconds for each step of the line, by the speed around it. */
  double[] stepsS() {
    double[] out = new double[size()];
    double[] place = points.placeM();
    double[] second = points.second();
    int j = 0;
    int a = 0;
    int b = 0;
    int last = points.size() - 1;
    for (int i = 0; i < out.length; i++) {
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

  /**
   * For chainages of the points, where they lie along the line: how many steps from its start, from
   * 0 to one step before its end.
   */
  double[] stepsTo(double[] chainageM) {
    double[] out = new double[chainageM.length];
    for (int j = 0; j < out.length; j++)
      out[j] = Math.max(0, Math.min(size() - 1.0, (chainageM[j] - fromM) / stepM));
    return out;
  }
}
