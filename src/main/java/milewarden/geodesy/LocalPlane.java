package milewarden.geodesy;

/**
 * A plane in metres around a place: the transverse Mercator projection of the ellipsoid with the
 * place's meridian as its central one and scale 1 there, x to the east and y to the north.
 *
 * <p>Angles are true; lengths are too long by x^2 / (2 M N) off the central meridian (5.4 mm per km
 * at 21 km), which {@link #lengthM} takes out again. Meant for points within 50 km of the origin
 * and between 80 degrees south and north.
 *
 * @see "Snyder (1987), Map projections: a working manual, USGS Professional Paper 1395, 60-64"
 */
public final class LocalPlane {
  private static final double RADIANS_PER_DEGREE = Math.PI / 180;

  private final Position origin;
  private final double originLat;
  private final double originLonDeg;
  private final double sin0;
  private final double cos0;
  // Meridian distance from the origin as a polynomial in the difference of latitude.
  private final double m1;
  private final double m2;
  private final double m3;
  private final double m4;
  private final double m5;
  private final double twoMN;

  private LocalPlane(Position origin) {
    this.origin = origin;
    originLat = Math.toRadians(origin.latitudeDeg());
    originLonDeg = origin.longitudeDeg();
    sin0 = Math.sin(originLat);
    cos0 = Math.cos(originLat);
    // Derivatives of M = A (1 - e2) w^-3/2, w = 1 - e2 sin^2, by w' = -e2 sin 2p.
    double e2 = Radii.E2;
    double w = 1 - e2 * sin0 * sin0;
    double s2 = 2 * sin0 * cos0;
    double c2 = cos0 * cos0 - sin0 * sin0;
    double w1 = -e2 * s2;
    double w2 = -2 * e2 * c2;
    double w3 = 4 * e2 * s2;
    double w4 = 8 * e2 * c2;
    double m = Radii.A * (1 - e2) * Math.pow(w, -1.5);
    // With L = log M: L' = -3/2 w'/w and so on; M' = M L', M'' = M (L'' + L'^2), ...
    double a = w1 / w;
    double b = w2 / w;
    double c = w3 / w;
    double d = w4 / w;
    double l1 = -1.5 * a;
    double l2 = -1.5 * (b - a * a);
    double l3 = -1.5 * (c - 3 * a * b + 2 * a * a * a);
    double l4 = -1.5 * (d - 4 * a * c - 3 * b * b + 12 * a * a * b - 6 * a * a * a * a);
    m1 = m;
    m2 = m * l1 / 2;
    m3 = m * (l2 + l1 * l1) / 6;
    m4 = m * (l3 + 3 * l1 * l2 + l1 * l1 * l1) / 24;
    m5 = m * (l4 + 4 * l1 * l3 + 3 * l2 * l2 + 6 * l1 * l1 * l2 + l1 * l1 * l1 * l1) / 120;
    twoMN = 2 * m * Radii.primeVerticalM(origin.latitudeDeg());
  }

  /** The plane around {@code origin}. */
  public static LocalPlane at(Position origin) {
    return new LocalPlane(origin);
  }

  public Position origin() {
    return origin;
  }

  /** The plane's point of a place. */
  public PlanePoint project(double latitudeDeg, double longitudeDeg) {
    double[] x = new double[1];
    double[] y = new double[1];
    project(latitudeDeg, longitudeDeg, x, y, 0);
    return new PlanePoint(x[0], y[0]);
  }

  /** As {@link #project(double, double)}, into element {@code i} of two arrays. */
  public void project(double latitudeDeg, double longitudeDeg, double[] xM, double[] yM, int i) {
    double p = latitudeDeg * RADIANS_PER_DEGREE - originLat;
    double lonDeg = longitudeDeg - originLonDeg;
    if (lonDeg > 180) lonDeg -= 360;
    else if (lonDeg < -180) lonDeg += 360;
    // Sine and cosine of the latitude from those of the origin: no trigonometry per point.
    double p2 = p * p;
    double sinP = p * (1 - p2 / 6 * (1 - p2 / 20 * (1 - p2 / 42)));
    double cosP = 1 - p2 / 2 * (1 - p2 / 12 * (1 - p2 / 30));
    double sin = sin0 * cosP + cos0 * sinP;
    double cos = cos0 * cosP - sin0 * sinP;
    double w2 = 1 - Radii.E2 * sin * sin;
    double n = Radii.A / Math.sqrt(w2);
    double t2 = sin * sin / (cos * cos);
    double c = Radii.E2 / (1 - Radii.E2) * cos * cos;
    double a = lonDeg * RADIANS_PER_DEGREE * cos;
    double a2 = a * a;
    double arc = p * (m1 + p * (m2 + p * (m3 + p * (m4 + p * m5))));
    double ep2 = Radii.E2 / (1 - Radii.E2);
    // Snyder (1987), equations 8-9 and 8-10, with scale 1 on the central meridian.
    xM[i] =
        n * a * (1 + a2 / 6 * (1 - t2 + c + a2 / 20 * (5 - 18 * t2 + t2 * t2 + 72 * c - 58 * ep2)));
    yM[i] =
        arc
            + n
                * sin
                / cos
                * a2
                * (0.5
                    + a2
                        / 24
                        * (5
                            - t2
                            + 9 * c
                            + 4 * c * c
                            + a2 / 30 * (61 - 58 * t2 + t2 * t2 + 600 * c - 330 * ep2)));
  }

  /** The place of a point of the plane; the inverse of {@link #project} to 1 micrometre. */
  public Position position(double xM, double yM) {
    double lat = origin.latitudeDeg();
    double lon = originLonDeg;
    // The forward equations are so nearly linear here that each round gains three digits or more.
    for (int round = 0; round < 12; round++) {
      PlanePoint at = project(lat, lon);
      double dx = xM - at.xM();
      double dy = yM - at.yM();
      if (Math.abs(dx) + Math.abs(dy) < 1e-9) break;
      lat += Math.toDegrees(dy / Radii.meridianM(lat));
      lon += Math.toDegrees(dx / (Radii.primeVerticalM(lat) * Math.cos(Math.toRadians(lat))));
    }
    if (lon > 180) lon -= 360;
    else if (lon < -180) lon += 360;
    return new Position(lat, lon);
  }

  /** The projection's scale at x: a plane length is this times the true one. */
  public double scale(double xM) {
    return 1 + xM * xM / twoMN;
  }

  /**
   * The true length between two points of the plane, metres on the ellipsoid: the straight line
   * divided by its mean scale.
   */
  public double lengthM(double x1M, double y1M, double x2M, double y2M) {
    double meanSquare = (x1M * x1M + x1M * x2M + x2M * x2M) / 3;
    return Math.hypot(x2M - x1M, y2M - y1M) / (1 + meanSquare / twoMN);
  }
}
