package milewarden.matching;

import java.util.Arrays;
import java.util.BitSet;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.PlanePoint;
import milewarden.matching.line.CourseLine;
import milewarden.matching.line.SimpleLine;
import milewarden.track.Track;

/**
 * How near a track comes to a course's line, fix by fix, without asking in which order.
 *
 * @param medianM median distance of the fixes from the line, metres
 * @param share of the fixes within {@link #NEAR_M} of the line, 0 to 1
 * @param covered share of the line with a fix near it, 0 to 1
 */
record Nearness(double medianM, double share, double covered) {
  /** The corridor of the engine at its narrowest. */
  static final double NEAR_M = 30;

  private static final int PARTS = 50;
  private static final double FAR_DEG = 0.5;

  static Nearness of(CourseMatcher matcher, Track track) {
    return of(matcher, track, Sampled.of(track));
  }

  /** By these of the track's fixes, ascending. */
  static Nearness of(CourseMatcher matcher, Track track, int[] sampled) {
    double[] distances = new double[sampled.length];
    BitSet parts = new BitSet(PARTS);
    double[] chainages = new double[SimpleLine.MOST_CANDIDATES];
    double[] squares = new double[SimpleLine.MOST_CANDIDATES];
    int near = 0;
    int k = 0;
    double before = Double.NaN;
    for (int i : sampled) {
      double lat = track.latitudesDeg()[i];
      double lon = track.longitudesDeg()[i];
      double d = away(matcher, lat, lon, chainages, squares);
      distances[k++] = d;
      if (d > NEAR_M) {
        before = Double.NaN;
        continue;
      }
      near++;
      double s = chainages[0] / matcher.lengthM() * PARTS;
      mark(parts, before, s, matcher.line().closed());
      before = s;
      // Of two legs side by side the nearest alone would be a matter of chance.
      for (int c = 1; c < chainages.length; c++)
        if (squares[c] <= NEAR_M * NEAR_M)
          mark(parts, Double.NaN, chainages[c] / matcher.lengthM() * PARTS, false);
    }
    Arrays.sort(distances);
    return new Nearness(distances[k / 2], near / (double) k, parts.cardinality() / (double) PARTS);
  }

  /** Fills the way between two sampled fixes, where it is short enough to have been that way. */
  private static void mark(BitSet parts, double before, double s, boolean closed) {
    int at = Math.max(0, Math.min(PARTS - 1, (int) s));
    parts.set(at);
    if (Double.isNaN(before)) return;
    int from = Math.max(0, Math.min(PARTS - 1, (int) before));
    int apart = Math.abs(at - from);
    if (apart <= PARTS / 5) {
      parts.set(Math.min(at, from), Math.max(at, from) + 1);
    } else if (closed && PARTS - apart <= PARTS / 5) {
      parts.set(Math.max(at, from), PARTS);
      parts.set(0, Math.min(at, from) + 1);
    }
  }

  /** Distance from the line in metres; the candidates, nearest first, where it is near. */
  private static double away(
      CourseMatcher matcher, double lat, double lon, double[] chainages, double[] squares) {
    CourseLine line = matcher.line();
    double lat0 = line.plane().origin().latitudeDeg();
    double lon0 = line.plane().origin().longitudeDeg();
    double dLon = Math.abs(Math.IEEEremainder(lon - lon0, 360));
    if (Math.abs(lat - lat0) > FAR_DEG || dLon * Math.cos(Math.toRadians(lat0)) > FAR_DEG)
      // From the middle of the course: so far off it is no matter from which point of it.
      return Geodesics.lengthM(lat, lon, lat0, lon0);
    PlanePoint p = line.plane().project(lat, lon);
    int found = matcher.simple().candidates(p.xM(), p.yM(), 0, chainages, squares);
    if (found == 0) return line.distance(p.xM(), p.yM());
    int best = 0;
    for (int c = 1; c < found; c++) if (squares[c] < squares[best]) best = c;
    double square = squares[best];
    double chainage = chainages[best];
    chainages[best] = chainages[0];
    squares[best] = squares[0];
    chainages[0] = chainage;
    squares[0] = square;
    Arrays.fill(squares, found, squares.length, Double.POSITIVE_INFINITY);
    return Math.sqrt(square);
  }
}
