package milewarden.matching;

import java.util.Arrays;
import milewarden.geodesy.LocalPlane;
import milewarden.track.Track;

/**
 * A track in the plane of a course, smoothed for finding its place on the line: never for
 * measuring.
 *
 * <p>Smoothing is over 9 s, with fixes left out that lie far off the median of 5: the walker's
 * speed comes out of it, and with it how far to expect the next fix along the line.
 */
final class Places {
  // The span over which the walker's speed is taken; this project's simulations (design, matching).
  private static final double SPAN_S = 9;

  // A fix further from the median of five than this, and than two median steps, is not smoothed in.
  private static final double JUNK_M = 15;

  // 1.5 degrees: the plane is made for 50 km around the course, beyond it nothing is near anyway.
  private static final double FAR_DEG = 1.5;

  /** The fixes in the plane, metres; NaN where a fix is further away than any course is long. */
  final double[] rawX;

  final double[] rawY;

  /** The smoothed places; NaN where there are only fixes that jump. */
  final double[] x;

  final double[] y;

  /** Expected distance since the first fix, metres, never falling. */
  final double[] expected;

  /** True where the way from the fix before is not known: a long step or a new segment. */
  final boolean[] gap;

  /** True at the first fix of a segment after the first. */
  final boolean[] paused;

  private final Timeline timeline;
  private double medianStepM = Double.NaN;

  Places(Track track, Timeline timeline, LocalPlane plane) {
    this.timeline = timeline;
    int n = track.size();
    rawX = new double[n];
    rawY = new double[n];
    project(track, plane);
    gap = new boolean[n];
    paused = new boolean[n];
    for (int s = 1; s < track.segments(); s++) paused[track.segmentStart(s)] = true;
    for (int i = 1; i < n; i++) gap[i] = paused[i] || timeline.isLong(i);
    x = new double[n];
    y = new double[n];
    expected = new double[n];
    smooth();
    expect();
  }

  private void project(Track track, LocalPlane plane) {
    double[] lat = track.latitudesDeg();
    double[] lon = track.longitudesDeg();
    double lat0 = plane.origin().latitudeDeg();
    double lon0 = plane.origin().longitudeDeg();
    double east = FAR_DEG / Math.max(0.05, Math.cos(Math.toRadians(lat0)));
    for (int i = 0; i < lat.length; i++) {
      double dLon = Math.abs(lon[i] - lon0);
      if (dLon > 180) dLon = 360 - dLon;
      if (Math.abs(lat[i] - lat0) > FAR_DEG || dLon > east) {
        rawX[i] = Double.NaN;
        rawY[i] = Double.NaN;
      } else {
        plane.project(lat[i], lon[i], rawX, rawY, i);
      }
    }
  }

  /** The median step; worked out where somebody asks. */
  private double medianStepM() {
    if (Double.isNaN(medianStepM)) {
      double[] steps = someSteps();
      Arrays.sort(steps);
      medianStepM = steps.length == 0 ? 0 : steps[steps.length / 2];
    }
    return medianStepM;
  }

  /** From which distance on a fix is off, where it has a median of its own. */
  private double junkM() {
    int few = 0;
    double[] steps = someSteps();
    for (double step : steps) if (step <= JUNK_M / 2) few++;
    // Of steps that short the median is one of them: nothing need be sorted.
    return few > steps.length / 2 ? JUNK_M : Math.max(JUNK_M, 2 * medianStepM());
  }

  private double[] someSteps() {
    int n = rawX.length;
    // Of a sample: the size of a step is wanted, not its third digit.
    int every = Math.max(1, n / 1000);
    double[] steps = new double[n / every + 1];
    int k = 0;
    for (int i = 1; i < n; i += every) {
      double d = apart(rawX, rawY, i, i - 1);
      if (!Double.isNaN(d)) steps[k++] = d;
    }
    return Arrays.copyOf(steps, k);
  }

  private static double median5(double[] v, int i) {
    double a = v[i - 2];
    double b = v[i - 1];
    double c = v[i];
    double d = v[i + 1];
    double e = v[i + 2];
    double lo = Math.max(Math.min(a, b), Math.min(c, d));
    double hi = Math.min(Math.max(a, b), Math.max(c, d));
    return Math.max(Math.min(lo, hi), Math.min(Math.max(lo, hi), e));
  }

  private boolean jumps(int i, int from, int to, double limitM) {
    if (Double.isNaN(rawX[i])) return true;
    if (to - from < 5) return false;
    int m = Math.max(from + 2, Math.min(to - 3, i));
    double dx = rawX[i] - median5(rawX, m);
    double dy = rawY[i] - median5(rawY, m);
    double squared = dx * dx + dy * dy;
    if (squared <= limitM * limitM) return false;
    // At the ends of a run the median is that of a neighbour.
    double limit = limitM + Math.abs(m - i) * medianStepM();
    return !(squared <= limit * limit);
  }

  private void smooth() {
    int n = rawX.length;
    double limit = junkM();
    boolean[] junk = new boolean[n];
    double[] sumX = new double[n + 1];
    double[] sumY = new double[n + 1];
    int[] count = new int[n + 1];
    for (int from = 0; from < n; ) {
      int to = from + 1;
      while (to < n && !gap[to]) to++;
      int calm = 0;
      for (int i = from; i < to; i++) {
        // With no step of two before and behind so long, the median can't be out of the limit.
        calm = i > from && i + 2 < to && isShort(i + 2, limit / 3) ? calm + 1 : 0;
        junk[i] = calm < 4 && jumps(i, from, to, limit);
        sumX[i + 1] = sumX[i] + (junk[i] ? 0 : rawX[i]);
        sumY[i + 1] = sumY[i] + (junk[i] ? 0 : rawY[i]);
        count[i + 1] = count[i] + (junk[i] ? 0 : 1);
      }
      mean(from, to, sumX, sumY, count);
      from = to;
    }
  }

  private boolean isShort(int i, double limitM) {
    return Math.abs(rawX[i] - rawX[i - 1]) <= limitM && Math.abs(rawY[i] - rawY[i - 1]) <= limitM;
  }

  private void mean(int from, int to, double[] sumX, double[] sumY, int[] count) {
    int a = from;
    int b = from;
    for (int i = from; i < to; i++) {
      if (timeline.timed()) {
        double t = timeline.second(i);
        while (t - timeline.second(a) > SPAN_S / 2) a++;
        while (b + 1 < to && timeline.second(b + 1) - t <= SPAN_S / 2) b++;
      } else {
        a = i;
        b = i;
      }
      // As far back as ahead, so that the mean lies where the walker was.
      int half = Math.min(Math.max(0, i - a), Math.max(0, b - i));
      int in = count[i + half + 1] - count[i - half];
      x[i] = in == 0 ? Double.NaN : (sumX[i + half + 1] - sumX[i - half]) / in;
      y[i] = in == 0 ? Double.NaN : (sumY[i + half + 1] - sumY[i - half]) / in;
    }
  }

  private void expect() {
    int n = x.length;
    double[] speed = new double[n];
    for (int from = 0; from < n; ) {
      int to = from + 1;
      while (to < n && !gap[to]) to++;
      speeds(from, to, speed);
      from = to;
    }
    for (int i = 1; i < n; i++) {
      double step;
      if (timeline.timed()) {
        double dt = timeline.second(i) - timeline.second(i - 1);
        step = dt * (speed[i - 1] + speed[i]) / 2;
      } else {
        step = apartM(i, i - 1);
      }
      expected[i] = expected[i - 1] + (Double.isNaN(step) ? 0 : step);
    }
  }

  private void speeds(int from, int to, double[] speed) {
    if (!timeline.timed()) return;
    int a = from;
    int b = from;
    double last = 0;
    for (int i = from; i < to; i++) {
      double t = timeline.second(i);
      while (a < i && t - timeline.second(a) > SPAN_S / 2) a++;
      while (b + 1 < to && timeline.second(b) - t < SPAN_S / 2) b++;
      int p = a == i && i > from ? i - 1 : a;
      double dt = timeline.second(b) - timeline.second(p);
      double d = apartM(b, p);
      if (dt > 0 && !Double.isNaN(d)) last = d / dt;
      speed[i] = last;
    }
  }

  int size() {
    return x.length;
  }

  boolean usable(int i) {
    return !Double.isNaN(x[i]);
  }

  double apartM(int i, int j) {
    return apart(x, y, i, j);
  }

  // Math.hypot guards against overflow that metres can't have, at ten times the time.
  private static double apart(double[] x, double[] y, int i, int j) {
    double dx = x[i] - x[j];
    double dy = y[i] - y[j];
    return Math.sqrt(dx * dx + dy * dy);
  }

  boolean timed() {
    return timeline.timed();
  }

  double second(int i) {
    return timeline.second(i);
  }
}
