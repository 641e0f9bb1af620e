package milewarden.geodesy;

import net.sf.geographiclib.Geodesic;
import net.sf.geographiclib.GeodesicData;
import net.sf.geographiclib.GeodesicMask;

/**
 * The reference for every length on the WGS 84 ellipsoid.
 *
 * @see "Karney (2013), Algorithms for geodesics, J. Geodesy 87, 43-55"
 */
public final class Geodesics {
  private Geodesics() {}

  /**
   * Length of the shortest path between two places, in metres.
   *
   * @return never negative; error 15 nm, the library's own statement
   */
  public static double lengthM(double lat1Deg, double lon1Deg, double lat2Deg, double lon2Deg) {
    return Geodesic.WGS84.Inverse(lat1Deg, lon1Deg, lat2Deg, lon2Deg, GeodesicMask.DISTANCE).s12;
  }

  /**
   * The place at {@code distanceM} from {@code from} in the direction {@code azimuthDeg}, clockwise
   * from north.
   */
  public static Position direct(Position from, double azimuthDeg, double distanceM) {
    GeodesicData d =
        Geodesic.WGS84.Direct(from.latitudeDeg(), from.longitudeDeg(), azimuthDeg, distanceM);
    return new Position(d.lat2, d.lon2);
  }

  /**
   * The direction at {@code from} of the shortest path to {@code to}, in degrees clockwise from
   * north, -180 to 180.
   */
  public static double azimuthDeg(Position from, Position to) {
    return Geodesic.WGS84.Inverse(
            from.latitudeDeg(),
            from.longitudeDeg(),
            to.latitudeDeg(),
            to.longitudeDeg(),
            GeodesicMask.AZIMUTH)
        .azi1;
  }
}
