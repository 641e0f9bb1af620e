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
}
