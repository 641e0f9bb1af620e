package milewarden.geodesy;

import java.util.List;

/** Two or more positions in order. */
public record Polyline(List<Position> positions) {
  public Polyline {
    positions = List.copyOf(positions);
    if (positions.size() < 2)
      throw new IllegalArgumentException("a line has two positions or more");
  }

  /** The sum of the geodesic lengths of its parts, in metres on the ellipsoid. */
  public double lengthM() {
    double sum = 0;
    for (int i = 1; i < positions.size(); i++) {
      Position a = positions.get(i - 1);
      Position b = positions.get(i);
      sum +=
          Geodesics.lengthM(a.latitudeDeg(), a.longitudeDeg(), b.latitudeDeg(), b.longitudeDeg());
    }
    return sum;
  }

  /**
   * Geodesic length from the first position to each, in metres; as many as positions, the first 0.
   * Computed at every call: keep it.
   */
  public double[] chainagesM() {
    double[] chainages = new double[positions.size()];
    for (int i = 1; i < chainages.length; i++) {
      Position a = positions.get(i - 1);
      Position b = positions.get(i);
      chainages[i] =
          chainages[i - 1]
              + Geodesics.lengthM(
                  a.latitudeDeg(), a.longitudeDeg(), b.latitudeDeg(), b.longitudeDeg());
    }
    return chainages;
  }

  /** The middle of the line's extent in latitude and longitude: the origin for its plane. */
  public Position middle() {
    double first = positions.get(0).longitudeDeg();
    double south = 90;
    double north = -90;
    double west = 0;
    double east = 0;
    for (Position p : positions) {
      south = Math.min(south, p.latitudeDeg());
      north = Math.max(north, p.latitudeDeg());
      // Relative to the first position, so that a line over the antimeridian stays together.
      double d = Math.IEEEremainder(p.longitudeDeg() - first, 360);
      west = Math.min(west, d);
      east = Math.max(east, d);
    }
    double longitude = Math.IEEEremainder(first + (west + east) / 2, 360);
    return new Position((south + north) / 2, longitude);
  }
}
