package milewarden.geodesy;

import java.util.ArrayList;
import java.util.List;

/** Two or more positions in order. */
public record Polyline(List<Position> positions) {
  // A walker's step and a half; the cost is the square of the number of places.
  private static final double FINEST_STEP_M = 2;
  private static final double MOST_STEPS = 1500;

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

  /**
   * How far this line and another part at least, for two who walk them from start to end beside
   * each other: the discrete Frechet distance of places along both, 2 m apart or a 1500th of the
   * longer one. Above the distance of the lines themselves by less than one such step.
   */
  public double apartM(Polyline other) {
    LocalPlane plane = LocalPlane.at(middle());
    double stepM = Math.max(FINEST_STEP_M, Math.max(lengthM(), other.lengthM()) / MOST_STEPS);
    double[][] a = placesM(plane, stepM);
    double[][] b = other.placesM(plane, stepM);
    return DiscreteFrechet.distanceM(a[0], a[1], b[0], b[1]);
  }

  /** East and north of the vertices and of places between them, at most a step apart. */
  private double[][] placesM(LocalPlane plane, double stepM) {
    List<PlanePoint> places = new ArrayList<>();
    for (Position p : positions) {
      PlanePoint next = plane.project(p.latitudeDeg(), p.longitudeDeg());
      if (!places.isEmpty()) {
        PlanePoint last = places.get(places.size() - 1);
        double dx = next.xM() - last.xM();
        double dy = next.yM() - last.yM();
        int parts = (int) Math.ceil(Math.hypot(dx, dy) / stepM);
        for (int i = 1; i < parts; i++)
          places.add(new PlanePoint(last.xM() + dx * i / parts, last.yM() + dy * i / parts));
      }
      places.add(next);
    }
    return new double[][] {
      places.stream().mapToDouble(PlanePoint::xM).toArray(),
      places.stream().mapToDouble(PlanePoint::yM).toArray()
    };
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
