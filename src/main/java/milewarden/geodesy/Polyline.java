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
}
