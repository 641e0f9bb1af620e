package milewarden.matching;

import java.util.Arrays;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.LocalMetric;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.track.Track;

/**
 * A circle on the ground.
 *
 * @param radiusM metres on the ellipsoid, 0 or above
 */
record Extent(Position middle, double radiusM) {
  /** All of a line. */
  static Extent of(Polyline line) {
    Position middle = line.middle();
    double radius = 0;
    for (Position p : line.positions())
      radius =
          Math.max(
              radius,
              LocalMetric.lengthM(
                  middle.latitudeDeg(), middle.longitudeDeg(), p.latitudeDeg(), p.longitudeDeg()));
    return new Extent(middle, radius);
  }

  /** Half of the fixes of a track at least, of those that are named: some may lie anywhere. */
  static Extent ofMost(Track track, int[] fixes) {
    int n = fixes.length;
    double[] lat = new double[n];
    double[] lon = new double[n];
    double first = track.longitudesDeg()[0];
    for (int k = 0; k < n; k++) {
      lat[k] = track.latitudesDeg()[fixes[k]];
      lon[k] = Math.IEEEremainder(track.longitudesDeg()[fixes[k]] - first, 360);
    }
    Arrays.sort(lat);
    Arrays.sort(lon);
    double middleLon = Math.IEEEremainder(first + lon[n / 2], 360);
    Position middle = new Position(lat[n / 2], middleLon);
    double[] away = new double[n];
    for (int k = 0; k < n; k++)
      away[k] =
          LocalMetric.lengthM(
              middle.latitudeDeg(),
              middle.longitudeDeg(),
              track.latitudesDeg()[fixes[k]],
              track.longitudesDeg()[fixes[k]]);
    Arrays.sort(away);
    return new Extent(middle, away[n / 2]);
  }

  /** The least that a place of one is away from a place of the other; 0 where they overlap. */
  double apartM(Extent other) {
    double between =
        Geodesics.lengthM(
            middle.latitudeDeg(),
            middle.longitudeDeg(),
            other.middle.latitudeDeg(),
            other.middle.longitudeDeg());
    return Math.max(0, between - radiusM - other.radiusM);
  }
}
