package milewarden.accuracy.fingerprint;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleFunction;
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
  private static final int FEWEST_FIXES = 120;
  // A lag below this shortens a bend of 20 m at 3 m/s by a hundredth: no more than noise adds.
  // Common practice, no source.
  private static final double MATTERS_S = 2;
  private static final double OVERSHOOT_MATTERS_M = 1;
  // ENGINE section 6: a bend has a radius below 50 m.
  private static final double BEND_PER_M = 1 / 50.0;
  private static final double BEND_OVER_M = 10;
  // Running on is largest in the bend or soon behind it: metres looked at behind its end.
  private static final double BEHIND_M = 30;

  private final MatchedPoints points;
  private final InsideOffset line;
  private final double varianceM2;
  private final double[] outwards;
  private final double[] offset;
  private final double[][] nuisance;
  private final boolean[] begins;
  private final List<Bend> bends;

  private Bends(MatchedPoints points, DoubleUnaryOperator headingRad) {
    this.points = points;
    line = new InsideOffset(points, headingRad);
    bends = bends();
    int n = points.size();
    offset = points.offsetM();
    begins = new boolean[n];
    begins[0] = true;
    nuisance = new double[3][n];
    // Without bends nobody asks for what explains them.
    for (int j = 0; j < n && !bends.isEmpty(); j++) {
      if (j > 0) begins[j] = points.breaks(j - 1, j);
      double h = headingRad.applyAsDouble(points.placeM()[j]);
      nuisance[0][j] = 1;
      nuisance[1][j] = Math.cos(h);
      nuisance[2][j] = -Math.sin(h);
    }
    varianceM2 = variance(offset);
    outwards = line.curvature();
    for (int i = 0; i < outwards.length; i++) outwards[i] /= -2;
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

  /**
   * A stretch of the line that bends one way.
   *
   * @param side 1 to the right, -1 to the left
   */
  private record Bend(int from, int to, int side) {}

  private List<Bend> bends() {
    int over = overBend();
    double least = BEND_PER_M * over * line.stepM();
    List<Bend> out = new ArrayList<>();
    int from = -1;
    int side = 0;
    for (int i = over; i < line.size(); i++) {
      double turn = line.headingRad(i) - line.headingRad(i - over);
      int now = Math.abs(turn) > least ? (turn > 0 ? 1 : -1) : 0;
      if (now == side) continue;
      if (side != 0) out.add(new Bend(from, i, side));
      from = i - over;
      side = now;
    }
    return out;
  }

  /** Values along the line as the fixes see them: by their own feet, which errors move. */
  private double[] column(double[] alongLine) {
    double[] spread = line.spread(alongLine, Math.sqrt(varianceM2));
    double[] out = new double[points.size()];
    for (int j = 0; j < out.length; j++) out[j] = line.at(spread, points.alongM()[j]);
    return out;
  }

  /** The offset by a filter of this time, over the square of the time, as the fixes see it. */
  private double[] column(DoubleFunction<double[]> filter, double timeS) {
    double[] offsets = filter.apply(timeS);
    double per = 1 / (timeS * timeS);
    for (int i = 0; i < offsets.length; i++) offsets[i] *= per;
    return column(offsets);
  }

  private Fingerprint lag() {
    return time(line::lagged)
        .map(
            t ->
                Fingerprint.of(
                    Kind.SMOOTHING_LAG,
                    presence(t.there(), t.highS(), MATTERS_S),
                    t.valueS(),
                    t.lowS(),
                    t.highS(),
                    bends.size()))
        .orElse(Fingerprint.unsettled(Kind.SMOOTHING_LAG, bends.size()));
  }

  private Fingerprint overshoot() {
    return time(line::carried)
        .map(
            t -> {
              // Very long filters run into the next bend: never below what shorter ones do.
              double value = runOnM(t.valueS());
              double low = Math.min(value, runOnM(t.lowS()));
              double high = Math.max(value, runOnM(t.highS()));
              return Fingerprint.of(
                  Kind.TURN_OVERSHOOT,
                  presence(t.there(), high, OVERSHOOT_MATTERS_M),
                  value,
                  low,
                  high,
                  bends.size());
            })
        .orElse(Fingerprint.unsettled(Kind.TURN_OVERSHOOT, bends.size()));
  }

  private static Presence presence(boolean there, double high, double matters) {
    return there ? Presence.PRESENT : high < matters ? Presence.ABSENT : Presence.UNSETTLED;
  }

  /** Mean over the bends of how far outside such a filter carries the track at most, metres. */
  private double runOnM(double timeS) {
    if (timeS == 0 || Double.isInfinite(timeS)) return timeS;
    double[] offsets = line.carried(timeS);
    double sum = 0;
    for (int b = 0; b < bends.size(); b++) {
      Bend bend = bends.get(b);
      int end = bend.to + (int) (BEHIND_M / line.stepM());
      int next = b + 1 < bends.size() ? bends.get(b + 1).from : line.size();
      double most = 0;
      for (int i = bend.from; i < Math.min(end, next); i++)
        most = Math.max(most, -bend.side * offsets[i]);
      sum += most;
    }
    return sum / bends.size();
  }

  /** Of the filter whose offset explains that of the fixes; empty where nothing can be told. */
  private Optional<FilterTime> time(DoubleFunction<double[]> filter) {
    if (bends.isEmpty()) return Optional.empty();
    Whitened seen = new Whitened(offset, nuisance, column(filter, 2), begins);
    return FilterTime.of(
        seen,
        seen.of(column(outwards)),
        varianceM2,
        t -> column(filter, t),
        line.meanMps() * sharpness());
  }

  /** Largest curvature of each bend, mean over the bends, per metre. */
  private double sharpness() {
    int over = overBend();
    double sum = 0;
    for (Bend b : bends) {
      double most = 0;
      for (int i = b.from + over; i <= b.to; i++)
        most = Math.max(most, Math.abs(line.headingRad(i) - line.headingRad(i - over)));
      sum += most;
    }
    return sum / bends.size() / (over * line.stepM());
  }

  /** Steps of the line over which its curvature is taken. */
  private int overBend() {
    return Math.max(1, (int) (BEND_OVER_M / line.stepM()));
  }
}
