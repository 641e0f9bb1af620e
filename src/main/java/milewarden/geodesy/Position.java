package milewarden.geodesy;

/**
 * A place on the WGS 84 ellipsoid.
 *
 * @param latitudeDeg geodetic latitude, -90 to 90 degrees, north positive
 * @param longitudeDeg longitude, -180 to 180 degrees, east positive
 */
public record Position(double latitudeDeg, double longitudeDeg) {
  public Position {
    if (!(latitudeDeg >= -90 && latitudeDeg <= 90))
      throw new IllegalArgumentException("latitude: " + latitudeDeg);
    if (!(longitudeDeg >= -180 && longitudeDeg <= 180))
      throw new IllegalArgumentException("longitude: " + longitudeDeg);
  }

  // By hand: the first call of what Java makes for a record costs a start sixty classes.
  @Override
  public boolean equals(Object other) {
    return other instanceof Position p
        && Double.compare(latitudeDeg, p.latitudeDeg) == 0
        && Double.compare(longitudeDeg, p.longitudeDeg) == 0;
  }

  @Override
  public int hashCode() {
    return 31 * Double.hashCode(latitudeDeg) + Double.hashCode(longitudeDeg);
  }
}
