package milewarden.accuracy.fingerprint;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;
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

  // A column like those of interest, taken out before the errors are looked at.
  private static final double GUESS_S = 2;
  private static final double[] NOT_ASKED = {};

  private final MatchedPoints points;
  private final UnaryOperator<double[]> headingsRad;
  private final FollowedLine line;
  private final List<Bend> bends;

  private Bends(MatchedPoints points, UnaryOperator<double[]> headingsRad) {
    this.points = points;
    this.headingsRad = headingsRad;
    line = new FollowedLine(points, headingsRad);
    bends = bends();
  }

  /**
   * Smoothing lag and running on at turns, in this order; unsettled without times, with too few
   * fixes, or without bends.
   *
   * @param points the fixes of one pass
   * @param headingsRad of the direction of travel, clockwise from north, unwound, radians, at
   *     chainages of the points
   * @param offsets of the same fixes
   */
  public static List<Fingerprint> of(
      MatchedPoints points, UnaryOperator<double[]> headingsRad, Offsets offsets) {
    int n = points.size();
    boolean enough =
        n >= FEWEST_FIXES
            && points.second()[n - 1] > points.second()[0]
            && points.placeM()[n - 1] > points.placeM()[0]
            && offsets.known();
    return enough ? new Bends(points, headingsRad).found() : none();
  }

  private static List<Fingerprint> none() {
    return List.of(
        Fingerprint.unsettled(Kind.SMOOTHING_LAG, 0),
        Fingerprint.unsettled(Kind.TURN_OVERSHOOT, 0));
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

  private Fingerprint lag(Optional<FilterTime> time) {
    return time.map(
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

  private Fingerprint overshoot(Optional<FilterTime> time, InsideOffset inside) {
    return time.map(
            t -> {
              // Very long filters run into the next bend: never below what shorter ones do.
              double value = runOnM(inside, t.valueS());
              double low = Math.min(value, runOnM(inside, t.lowS()));
              double high = Math.max(value, runOnM(inside, t.highS()));
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
  private double runOnM(InsideOffset inside, double timeS) {
    if (timeS == 0 || Double.isInfinite(timeS)) return timeS;
    double[] offsets = new double[line.size()];
    inside.of(timeS, NOT_ASKED, offsets);
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

  /** Both at once: the filter of one is the first half of the other's. */
  private List<Fingerprint> found() {
    if (bends.isEmpty()) return none();
    InsideOffset inside = new InsideOffset(line);
    AsSeen asSeen = new AsSeen(line, points.alongM(), Math.sqrt(variance(points.offsetM())));
    double[] outward = new double[points.size()];
    asSeen.column(outwards(), outward);
    double[] lagged = new double[line.size()];
    double[] carried = new double[line.size()];
    inside.of(GUESS_S, lagged, carried);
    Whitened.Plain plain = new Whitened.Plain(points.offsetM(), nuisance(), runs());
    FilterTime.Search lag = search(plain, asSeen, lagged, outward);
    FilterTime.Search carry = search(plain, asSeen, carried, outward);
    double[] column = new double[points.size()];
    while (lag.asks() || carry.asks()) {
      boolean lags = lag.asks();
      boolean carries = carry.asks();
      double timeS = lags ? lag.timeS() : carry.timeS();
      inside.of(timeS, lags ? lagged : NOT_ASKED, carries ? carried : NOT_ASKED);
      if (lags) hear(lag, asSeen, lagged, column);
      if (carries) hear(carry, asSeen, carried, column);
    }
    return List.of(lag(lag.found()), overshoot(carry.found(), inside));
  }

  private FilterTime.Search search(
      Whitened.Plain plain, AsSeen asSeen, double[] guess, double[] outward) {
    double[] column = new double[points.size()];
    asSeen.column(guess, column);
    Whitened seen = new Whitened(plain, column);
    double varianceM2 = variance(points.offsetM());
    return new FilterTime.Search(seen, seen.of(outward), varianceM2, line.meanMps() * sharpness());
  }

  private static void hear(
      FilterTime.Search search, AsSeen asSeen, double[] offsets, double[] column) {
    asSeen.column(offsets, column);
    search.hear(column);
  }

  /** How far fixes in bends lie outwards, for a variance of 1 of the errors along the line. */
  private double[] outwards() {
    double[] out = line.curvature();
    for (int i = 0; i < out.length; i++) out[i] /= -2;
    return out;
  }

  /** A constant offset, and a shift of the map to the east and to the north. */
  private double[][] nuisance() {
    double[] ones = new double[points.size()];
    Arrays.fill(ones, 1);
    double[][] direction = FollowedLine.sineAndCosine(headingsRad.apply(points.placeM()));
    double[] north = direction[0];
    for (int j = 0; j < north.length; j++) north[j] = -north[j];
    return new double[][] {ones, direction[1], north};
  }

  /** Where the series of the fixes begins anew, and its end. */
  private int[] runs() {
    int n = points.size();
    return IntStream.rangeClosed(0, n)
        .filter(j -> j == 0 || j == n || points.breaks(j - 1, j))
        .toArray();
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
