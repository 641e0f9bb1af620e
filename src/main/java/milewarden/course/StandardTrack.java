package milewarden.course;

import java.util.ArrayList;
import java.util.List;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/**
 * A standard 400 m track: two straights and two half circles.
 *
 * @param centre the middle of the infield
 * @param bearingDeg direction of the straights, clockwise from north; the home straight, right of
 *     the centre when looking along the bearing, is run in this direction (left turns)
 * @param lane 1 for the innermost, to 9
 * @see "World Athletics Track and Field Facilities Manual (2019), 2.2.1: the standard track"
 */
public record StandardTrack(Position centre, double bearingDeg, int lane) {
  /** Length of one straight; the manual cited above. */
  public static final double STRAIGHT_M = 84.39;

  /** Radius of the bends to the edge of the raised kerb; the same. */
  public static final double KERB_RADIUS_M = 36.50;

  /** Width of a lane; the same. */
  public static final double LANE_WIDTH_M = 1.22;

  /** Where lane 1 is measured, from the raised kerb; the same. */
  public static final double FROM_KERB_M = 0.30;

  /** Where the other lanes are measured, from the line inside of them; the same. */
  public static final double FROM_LINE_M = 0.20;

  public StandardTrack {
    if (lane < 1 || lane > 9) throw new IllegalArgumentException("lane: " + lane);
    if (!Double.isFinite(bearingDeg)) throw new IllegalArgumentException("bearing: " + bearingDeg);
  }

  /** Radius of the line of running in the bends, metres. */
  public double radiusM() {
    return lane == 1
        ? KERB_RADIUS_M + FROM_KERB_M
        : KERB_RADIUS_M + (lane - 1) * LANE_WIDTH_M + FROM_LINE_M;
  }

  /** Length of one lap along the line of running, metres. */
  public double lapM() {
    return 2 * STRAIGHT_M + 2 * Math.PI * radiusM();
  }

  /** How far ahead of lane 1 a full lap starts, metres. */
  public double staggerM() {
    return lapM() - new StandardTrack(centre, bearingDeg, 1).lapM();
  }

  /**
   * The line of running, from the end of the home straight (the finish) round to itself; the last
   * position equals the first.
   *
   * @param bendParts chords in each half circle, so many that the drawn line is as long as the lap
   *     but for (pi/parts)^2/24 of the bends; 100 or more are sensible
   */
  public Polyline line(int bendParts) {
    if (bendParts < 2) throw new IllegalArgumentException("parts: " + bendParts);
    List<Position> positions = new ArrayList<>();
    double half = STRAIGHT_M / 2;
    double r = radiusM();
    // u along the bearing, v to the left of it; the bend goes left, from -90 to +90 degrees.
    for (int i = 0; i <= bendParts; i++) {
      double t = Math.PI * i / bendParts;
      positions.add(at(half + r * Math.sin(t), -r * Math.cos(t)));
    }
    for (int i = 0; i <= bendParts; i++) {
      double t = Math.PI * i / bendParts;
      positions.add(at(-half - r * Math.sin(t), r * Math.cos(t)));
    }
    positions.add(positions.get(0));
    return new Polyline(positions);
  }

  private Position at(double along, double left) {
    double bearing = bearingDeg - Math.toDegrees(Math.atan2(left, along));
    return Geodesics.direct(centre, bearing, Math.hypot(along, left));
  }
}
