package milewarden.geodesy;

/**
 * Radii of curvature of the WGS 84 ellipsoid, in metres.
 *
 * @see "NGA.STND.0036 (2014), World Geodetic System 1984: a and 1/f are its defining parameters"
 */
public final class Radii {
  /** Equatorial radius; NGA.STND.0036, defining. */
  static final double A = 6378137.0;

  /** Flattening; NGA.STND.0036, defining. */
  static final double F = 1 / 298.257223563;

  /** First eccentricity squared. */
  static final double E2 = F * (2 - F);

  private Radii() {}

  /** M, the radius of curvature in the meridian: metres per radian of latitude. */
  public static double meridianM(double latitudeDeg) {
    double sin = Math.sin(Math.toRadians(latitudeDeg));
    double w2 = 1 - E2 * sin * sin;
    return A * (1 - E2) / (w2 * Math.sqrt(w2));
  }

  /** N, the radius of curvature in the prime vertical. */
  public static double primeVerticalM(double latitudeDeg) {
    double sin = Math.sin(Math.toRadians(latitudeDeg));
    return A / Math.sqrt(1 - E2 * sin * sin);
  }

  /** The mean radius of curvature sqrt(M N), by which heights lengthen the ground. */
  public static double meanM(double latitudeDeg) {
    return Math.sqrt(meridianM(latitudeDeg) * primeVerticalM(latitudeDeg));
  }
}
