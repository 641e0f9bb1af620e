package milewarden.accuracy;

import java.util.Arrays;
import milewarden.accuracy.noise.MatchedPoints;
import milewarden.course.Direction;
import milewarden.matching.CourseMatcher;
import milewarden.matching.Match;
import milewarden.matching.PassEnd;
import milewarden.matching.PassSpan;

/**
 * One pass as a chain of points, its ends among them, in the direction of travel and in metres on
 * the ground.
 */
final class PassSeries {
  /** Points; steps are one fewer, step j from point j to j + 1. */
  final int points;

  /** Chainage in the direction of travel, before scaling by k. */
  final double[] alongM;

  /** Right of the direction of travel positive. */
  final double[] offsetM;

  /**
   * Heading of the line, clockwise, unwound, radians: its change from point to point is the turn.
   */
  final double[] headingRad;

  /** Smoothed chainage in the direction of travel. */
  final double[] placeM;

  /** Since the first time of the recording; NaN without times. */
  final double[] second;

  final double[] latitudeDeg;
  final double[] longitudeDeg;

  /** Length of each step; 0 over a break. */
  final double[] stepM;

  final StepKind[] kind;

  /** True over a break between segments: neither its length nor its advance is the track's. */
  final boolean[] broken;

  /** The first and the last point that are fixes, not gates between fixes. */
  final int firstFix;

  final int lastFix;

  private final Recording recording;
  private final Match match;
  private final CourseMatcher matcher;
  private final double ground;
  private final int sign;

  PassSeries(
      Recording recording, Match match, CourseMatcher matcher, PassSpan span, double ground) {
    this.recording = recording;
    this.match = match;
    this.matcher = matcher;
    this.ground = ground;
    sign = span.direction() == Direction.FORWARD ? 1 : -1;
    PassEnd from = span.from();
    PassEnd to = span.to();
    int inner = to.fix() - from.fix();
    boolean cutAtEnd = to.fraction() > 0;
    points = inner + 1 + (cutAtEnd ? 1 : 0);
    alongM = new double[points];
    offsetM = new double[points];
    headingRad = new double[points];
    placeM = new double[points];
    second = new double[points];
    latitudeDeg = new double[points];
    longitudeDeg = new double[points];
    stepM = new double[points - 1];
    kind = new StepKind[points - 1];
    broken = new boolean[points - 1];
    firstFix = from.fraction() > 0 ? 1 : 0;
    lastFix = points - 1 - (cutAtEnd ? 1 : 0);
    for (int j = 0; j <= inner; j++) fix(j, from.fix() + j);
    end(0, from);
    end(points - 1, to);
    for (int j = 0; j < points - 1; j++) step(j, from, to);
  }

  private void fix(int j, int i) {
    alongM[j] = sign * match.chainageM()[i] * ground;
    offsetM[j] = sign * match.offsetM()[i] * ground;
    headingRad[j] = match.headingRad()[i];
    placeM[j] = sign * match.placeM()[i] * ground;
    second[j] = recording.timeline.second(i);
    latitudeDeg[j] = recording.track.latitudesDeg()[i];
    longitudeDeg[j] = recording.track.longitudesDeg()[i];
  }

  /** A gate lies on the straight step between two fixes, where the matched chainage passes it. */
  private void end(int j, PassEnd end) {
    int i = end.fix();
    double f = end.fraction();
    if (f > 0) {
      offsetM[j] = sign * ground * between(match.offsetM(), i, f);
      placeM[j] = sign * ground * between(match.placeM(), i, f);
      double t = recording.timeline.second(i);
      second[j] = t + f * (recording.timeline.second(i + 1) - t);
      latitudeDeg[j] = between(recording.track.latitudesDeg(), i, f);
      double lon = recording.track.longitudesDeg()[i];
      double dLon = Math.IEEEremainder(recording.track.longitudesDeg()[i + 1] - lon, 360);
      longitudeDeg[j] = Math.IEEEremainder(lon + f * dLon, 360);
      alongM[j] = sign * ground * between(match.chainageM(), i, f);
    }
    if (end.isGate()) {
      alongM[j] = sign * end.gateM() * ground;
      headingRad[j] = matcher.headingAtRad(end.gateM());
    }
  }

  private static double between(double[] values, int i, double f) {
    return values[i] + f * (values[i + 1] - values[i]);
  }

  private void step(int j, PassEnd from, PassEnd to) {
    int i = from.fix() + j + 1;
    double part = 1;
    if (j == 0) part -= from.fraction();
    if (i > to.fix()) part -= 1 - to.fraction();
    stepM[j] = part * recording.stepM[i] * ground;
    broken[j] = recording.paused[i];
    kind[j] = kind(j, i);
  }

  // ENGINE section 6: matched speed below this is standing.
  private static final double STANDING_MPS = 0.3;

  private StepKind kind(int j, int i) {
    if (recording.isGap(i)) return StepKind.GAP;
    if (recording.spike[i] || recording.spike[i - 1]) return StepKind.SPIKE;
    double dt = second[j + 1] - second[j];
    if (dt > 0 && Math.abs(placeM[j + 1] - placeM[j]) < STANDING_MPS * dt) return StepKind.STANDING;
    double middle = sign * (placeM[j] + placeM[j + 1]) / 2 / ground;
    return matcher.bendAt(middle) ? StepKind.BEND : StepKind.STRAIGHT;
  }

  /** The points with their gates, as plain series. */
  MatchedPoints matched() {
    return new MatchedPoints(alongM, offsetM, placeM, second, broken);
  }

  /** The fixes alone. */
  MatchedPoints fixes() {
    return lastFix < firstFix ? matched() : matched().part(firstFix, lastFix + 1);
  }

  /** Headings of travel at chainages in the direction of travel, clockwise, unwound, radians. */
  double[] travelHeadingsRad(double[] along) {
    double[] course = new double[along.length];
    for (int i = 0; i < along.length; i++) course[i] = sign * along[i] / ground;
    double[] out = matcher.headingsAtRad(course);
    if (sign < 0) for (int i = 0; i < out.length; i++) out[i] += Math.PI;
    return out;
  }

  /** Offsets of the fixes alone; of the two gates where no fix lies between them. */
  double[] fixOffsets() {
    if (lastFix < firstFix) return offsetM.clone();
    return Arrays.copyOfRange(offsetM, firstFix, lastFix + 1);
  }

  /** 1 with the course's chainage, -1 against it. */
  int sign() {
    return sign;
  }

  /** Chainage from the start of the course in its own direction, metres before scaling by k. */
  double courseAlongM(int j) {
    return sign * alongM[j];
  }
}
