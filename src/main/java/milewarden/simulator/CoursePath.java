package milewarden.simulator;

import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;

/**
 * A course's line by chainage. Chainage runs evenly along the geodesic length of the line, so that
 * its end is the measured length; the first and last edge of an open course go on straight beyond
 * its ends.
 *
 * <p>An offset is laid off square to the heading. The heading turns evenly within {@value #TURN_M}
 * m of a vertex, or half an edge where edges are shorter, so that a finely drawn bend is smooth and
 * a corner is rounded.
 */
final class CoursePath {
  /** Half of the stretch over which a walker turns at a corner. No source: a stride or two. */
  static final double TURN_M = 2.0;

  private final double[] latDeg;
  private final double[] lonDeg;
  private final double[] chainageM;
  private final double[] headingRad;
  private final boolean closed;
  private final double lengthM;

  CoursePath(ReferenceCourse course) {
    List<Position> line = course.line().positions();
    int n = line.size();
    latDeg = new double[n];
    lonDeg = new double[n];
    chainageM = new double[n];
    headingRad = new double[n - 1];
    closed = course.closed();
    lengthM = course.horizontalM();
    for (int i = 0; i < n; i++) {
      latDeg[i] = line.get(i).latitudeDeg();
      lonDeg[i] = line.get(i).longitudeDeg();
      if (i == 0) continue;
      chainageM[i] =
          chainageM[i - 1] + Geodesics.lengthM(latDeg[i - 1], lonDeg[i - 1], latDeg[i], lonDeg[i]);
      double mid = (latDeg[i - 1] + latDeg[i]) / 2;
      headingRad[i - 1] =
          Math.atan2(
              (lonDeg[i] - lonDeg[i - 1]) * LocalMetre.perDegreeEast(mid),
              (latDeg[i] - latDeg[i - 1]) * LocalMetre.perDegreeNorth(mid));
    }
    double scale = lengthM / chainageM[n - 1];
    for (int i = 0; i < n; i++) chainageM[i] *= scale;
  }

  double lengthM() {
    return lengthM;
  }

  /** Chainage within one lap of a closed course; the chainage itself on an open one. */
  double withinLap(double chainage) {
    if (!closed) return chainage;
    double r = chainage % lengthM;
    return r < 0 ? r + lengthM : r;
  }

  /**
   * Writes latitude and longitude of the place at {@code chainage} and {@code rightM} to the right
   * of increasing chainage into {@code to[0]} and {@code to[1]}.
   */
  void place(double chainage, double rightM, double[] to) {
    double s = withinLap(chainage);
    int e = edge(s);
    double f = (s - chainageM[e]) / (chainageM[e + 1] - chainageM[e]);
    double lat = latDeg[e] + f * (latDeg[e + 1] - latDeg[e]);
    double lon = lonDeg[e] + f * (lonDeg[e + 1] - lonDeg[e]);
    if (rightM != 0) {
      double h = heading(s, e);
      lat -= rightM * Math.sin(h) / LocalMetre.perDegreeNorth(lat);
      lon += rightM * Math.cos(h) / LocalMetre.perDegreeEast(lat);
    }
    to[0] = lat;
    to[1] = lon;
  }

  /**
   * Moves a place near {@code chainage} to the line: what is along the line there stays, what is
   * beside it goes.
   *
   * @param place latitude and longitude in degrees; overwritten
   */
  void snap(double chainage, double[] place) {
    double lat = place[0];
    double lon = place[1];
    place(chainage, 0, place);
    double s = withinLap(chainage);
    double h = heading(s, edge(s));
    double north = (lat - place[0]) * LocalMetre.perDegreeNorth(lat);
    double east = (lon - place[1]) * LocalMetre.perDegreeEast(lat);
    place(chainage + north * Math.cos(h) + east * Math.sin(h), 0, place);
  }

  private int edge(double s) {
    int low = 0;
    int high = headingRad.length - 1;
    while (low < high) {
      int mid = (low + high + 1) >>> 1;
      if (chainageM[mid] <= s) low = mid;
      else high = mid - 1;
    }
    return low;
  }

  private double heading(double s, int e) {
    int last = headingRad.length - 1;
    double toEnd = chainageM[e + 1] - s;
    double fromStart = s - chainageM[e];
    boolean ahead = toEnd < fromStart;
    int other = ahead ? e + 1 : e - 1;
    if (other < 0 || other > last) {
      if (!closed) return headingRad[e];
      other = other < 0 ? last : 0;
    }
    double half = Math.min(TURN_M, Math.min(edgeM(e), edgeM(other)) / 2);
    double distance = ahead ? toEnd : fromStart;
    if (distance >= half) return headingRad[e];
    double turn = Math.IEEEremainder(headingRad[other] - headingRad[e], 2 * Math.PI);
    return headingRad[e] + turn * (half - distance) / (2 * half);
  }

  private double edgeM(int e) {
    return chainageM[e + 1] - chainageM[e];
  }
}
