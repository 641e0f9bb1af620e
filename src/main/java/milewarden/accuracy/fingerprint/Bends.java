package milewarden.accuracy.fingerprint;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import milewarden.accuracy.fingerprint.Fingerprint.Kind;
import milewarden.accuracy.fingerprint.Fingerprint.Presence;
import milewarden.accuracy.noise.MatchedPoints;
import milewarden.accuracy.noise.Offsets;

/**
 * What bends and turns give away: a lag by smoothing, and running on.
 *
 * <p>Explained by the offset from the line beside a constant offset (a lane, a wrist) and a
 * constant shift of the map, which are no lag. Errors along the line spread the effect of a bend
 * over its neighbourhood, and move fixes in it by up to their variance over twice the radius: both
 * are allowed for, DERIVED from the distance of a point (s, n) to an arc, n + s^2 / (2 R) to the
 * second order.
 */
public final class Bends {
  // Lags asked about, seconds.
  private static final double[] LAGS_S = {0.5, 1, 1.5, 2, 3, 4.5, 7, 11, 16};
  private static final double Z = 1.96;
  // Speed and heading are taken where the device is, not where the walker is, and the filter need
  // not be of the first order: 4 % of the lag, seen on simulated tracks without noise.
  private static final double MODEL = 0.08;
  private static final int FEWEST_FIXES = 120;
  // A lag below this shortens a bend of 20 m at 3 m/s by a hundredth: no more than noise adds.
  // Common practice, no source.
  private static final double MATTERS_S = 2;
  private static final double OVERSHOOT_MATTERS_M = 1;
  // ENGINE section 6: a bend has a radius below 50 m.
  private static final double BEND_PER_M = 1 / 50.0;
  private static final double BEND_OVER_M = 10;
  // A turn: 60 degrees within 15 m. No source.
  private static final double TURN_RAD = Math.PI / 3;
  private static final double TURN_WITHIN_M = 15;
  // Seconds behind a turn at which running on is largest. No source: a filter with a velocity in
  // it.
  private static final double PEAK_S = 2;

  private final MatchedPoints points;
  private final InsideOffset line;
  private final double varianceM2;
  private final double[] outwards;
  private final double[] offset;
  private final double[][] nuisance;
  private final boolean[] begins;
  private final int bends;

  private Bends(MatchedPoints points, DoubleUnaryOperator headingRad) {
    this.points = points;
    line = new InsideOffset(points, headingRad);
    double[] curvature = line.curvature();
    bends = count(curvature);
    int n = points.size();
    offset = points.offsetM();
    begins = new boolean[n];
    begins[0] = true;
    nuisance = new double[3][n];
    for (int j = 0; j < n; j++) {
      if (j > 0) begins[j] = points.breaks(j - 1, j);
      double h = headingRad.applyAsDouble(points.placeM()[j]);
      nuisance[0][j] = 1;
      nuisance[1][j] = Math.cos(h);
      nuisance[2][j] = -Math.sin(h);
    }
    varianceM2 = variance(offset);
    double[] half = new double[curvature.length];
    for (int i = 0; i < half.length; i++) half[i] = -curvature[i] / 2;
    outwards = column(half);
  }

  /**
   * Smoothing lag and running on at turns, in this order; unsettled without times, with too few
   * fixes, or without bends.
   *
   * @param points the fixes of one pass
   * @param headingRad of the direction of travel, clockwise from north, unwound, radians, at a
   *     chainage of the points
   * @param offsets of the same fixes
   */
  public static List<Fingerprint> of(
      MatchedPoints points, DoubleUnaryOperator headingRad, Offsets offsets) {
    int n = points.size();
    boolean enough =
        n >= FEWEST_FIXES
            && points.second()[n - 1] > points.second()[0]
            && points.placeM()[n - 1] > points.placeM()[0]
            && offsets.known();
    if (!enough)
      return List.of(
          Fingerprint.unsettled(Kind.SMOOTHING_LAG, 0),
          Fingerprint.unsettled(Kind.TURN_OVERSHOOT, 0));
    Bends b = new Bends(points, headingRad);
    return List.of(b.lag(), b.overshoot());
  }

  private static double variance(double[] values) {
    double mean = Arrays.stream(values).average().orElseThrow();
    double sum = 0;
    for (double v : values) sum += (v - mean) * (v - mean);
    return sum / values.length;
  }

  private int count(double[] curvature) {
    int over = Math.max(1, (int) (BEND_OVER_M / line.stepM()));
    int found = 0;
    boolean in = false;
    for (int i = over; i < curvature.length; i++) {
      double turn = Math.abs(line.headingRad(i) - line.headingRad(i - over));
      boolean bend = turn > BEND_PER_M * over * line.stepM();
      if (bend && !in) found++;
      in = bend;
    }
    return found;
  }

  /** Values along the line as the fixes see them: by their own feet, which errors move. */
  private double[] column(double[] alongLine) {
    double[] spread = line.spread(alongLine, Math.sqrt(varianceM2));
    double[] out = new double[points.size()];
    for (int j = 0; j < out.length; j++) out[j] = line.at(spread, points.alongM()[j]);
    return out;
  }

  private double[] lagged(double lagS) {
    double[] inside = line.lagged(lagS);
    for (int i = 0; i < inside.length; i++) inside[i] /= lagS * lagS;
    return column(inside);
  }

  /** A coefficient and the half-width of its 95 % interval. */
  private record Interval(double value, double half) {}

  /**
   * By the regression's error, and by what errors along the line can do in a bend: fresh ones move
   * fixes outwards by their variance over twice the radius, lasting ones and a shift of the map
   * inwards by as much. Between these it lies.
   */
  private Interval interval(Whitened seen, Whitened outward, double[] column) {
    Whitened.Coefficient c = seen.of(column);
    double own = Math.abs(outward.of(column).value()) * varianceM2;
    return new Interval(c.value(), Z * c.error() + own);
  }

  private Fingerprint lag() {
    if (bends == 0) return Fingerprint.unsettled(Kind.SMOOTHING_LAG, 0);
    Whitened regression = new Whitened(offset, nuisance, lagged(2), begins);
    Whitened outward = regression.with(outwards);
    double[] over = new double[LAGS_S.length];
    double[] half = new double[LAGS_S.length];
    int asked = 0;
    for (double lag : LAGS_S) {
      Interval c = interval(regression, outward, lagged(lag));
      if (Double.isInfinite(c.half)) return Fingerprint.unsettled(Kind.SMOOTHING_LAG, bends);
      over[asked] = c.value - lag * lag;
      half[asked] = c.half + MODEL * lag * lag;
      if (over[asked] < -2 * half[asked++]) break;
    }
    double value = Math.min(crossing(over, half, asked, 0), LAGS_S[LAGS_S.length - 1]);
    double low = Math.min(crossing(over, half, asked, 1), value);
    double high = crossing(over, half, asked, -1);
    Presence presence =
        low > 0 ? Presence.PRESENT : high < MATTERS_S ? Presence.ABSENT : Presence.UNSETTLED;
    return Fingerprint.of(Kind.SMOOTHING_LAG, presence, value, low, high, bends);
  }

  /**
   * The lag at which the coefficient lies this many half-widths above the square of the lag; 0
   * where it lies lower from the start, infinite where it never falls so low.
   */
  private static double crossing(double[] over, double[] half, int asked, double halves) {
    // Below the shortest lag asked about, its own shape is taken.
    if (over[0] <= halves * half[0]) return 0;
    for (int i = 1; i < asked; i++) {
      double here = over[i] - halves * half[i];
      if (here > 0) continue;
      double before = over[i - 1] - halves * half[i - 1];
      double a = LAGS_S[i - 1] * LAGS_S[i - 1];
      double b = LAGS_S[i] * LAGS_S[i];
      return Math.sqrt(a + before / (before - here) * (b - a));
    }
    return Double.POSITIVE_INFINITY;
  }

  private Fingerprint overshoot() {
    List<int[]> turns = turns();
    if (turns.isEmpty()) return Fingerprint.unsettled(Kind.TURN_OVERSHOOT, 0);
    double[] shape = new double[line.size()];
    for (int[] turn : turns) {
      double peak = PEAK_S * line.meanMps();
      for (int i = turn[0]; i < shape.length && (i - turn[0]) * line.stepM() < 8 * peak; i++) {
        double u = (i - turn[0]) * line.stepM() / peak;
        // Outside is left of a right turn; 1 at the peak.
        shape[i] -= turn[1] * u * Math.exp(1 - u);
      }
    }
    double[] column = column(shape);
    double[][] more = Arrays.copyOf(nuisance, nuisance.length + 1);
    more[nuisance.length] = lagged(2);
    Whitened regression = new Whitened(offset, more, column, begins);
    Interval c = interval(regression, regression.with(outwards), column);
    if (!Double.isFinite(c.half)) return Fingerprint.unsettled(Kind.TURN_OVERSHOOT, turns.size());
    double low = c.value - c.half;
    double high = c.value + c.half;
    Presence presence =
        low > 0
            ? Presence.PRESENT
            : high < OVERSHOOT_MATTERS_M ? Presence.ABSENT : Presence.UNSETTLED;
    return Fingerprint.of(Kind.TURN_OVERSHOOT, presence, c.value, low, high, turns.size());
  }

  /** Ends of the tight turns on the line, each with 1 for right and -1 for left. */
  private List<int[]> turns() {
    int over = Math.max(1, (int) (TURN_WITHIN_M / line.stepM()));
    List<int[]> out = new ArrayList<>();
    int i = over;
    while (i < line.size()) {
      double turn = line.headingRad(i) - line.headingRad(i - over);
      if (Math.abs(turn) < TURN_RAD) {
        i++;
        continue;
      }
      // On to where the line no longer turns.
      while (i + 1 < line.size()
          && (line.headingRad(i + 1) - line.headingRad(i)) * turn > 1e-3 * line.stepM()) i++;
      out.add(new int[] {i, turn > 0 ? 1 : -1});
      i += over;
    }
    return out;
  }
}
