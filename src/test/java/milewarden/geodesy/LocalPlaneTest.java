package milewarden.geodesy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The oracle is GeographicLib, behind Geodesics. */
final class LocalPlaneTest {
  @ParameterizedTest
  @ValueSource(doubles = {0, 20, 45, 52.5, 60, 75, -34, -60})
  void lengthsWithin21KilometresAreGoodToAHundredthOfAMillimetrePerKilometre(double latitude) {
    long seed = 99;
    Random random = new Random(seed);
    Position origin = new Position(latitude, 179.95);
    LocalPlane plane = LocalPlane.at(origin);
    for (int i = 0; i < 3_000; i++) {
      Position a =
          Geodesics.direct(origin, random.nextDouble() * 360, random.nextDouble() * 20_000);
      double length = 1 + random.nextDouble() * 1000;
      Position b = Geodesics.direct(a, random.nextDouble() * 360, length);
      PlanePoint p = plane.project(a.latitudeDeg(), a.longitudeDeg());
      PlanePoint q = plane.project(b.latitudeDeg(), b.longitudeDeg());
      double found = plane.lengthM(p.xM(), p.yM(), q.xM(), q.yM());
      // The goal per km, and a micrometre for the rounding of degrees near 180.
      assertThat(Math.abs(found - length))
          .as("seed %d, %d", seed, i)
          .isLessThan(1e-8 * length + 1e-6);
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 45, 75, -50})
  void theWayBackLeadsToTheSamePlace(double latitude) {
    Random random = new Random(5);
    Position origin = new Position(latitude, -179.9);
    LocalPlane plane = LocalPlane.at(origin);
    for (int i = 0; i < 1_000; i++) {
      Position a =
          Geodesics.direct(origin, random.nextDouble() * 360, random.nextDouble() * 50_000);
      PlanePoint p = plane.project(a.latitudeDeg(), a.longitudeDeg());
      Position back = plane.position(p.xM(), p.yM());
      assertThat(
              Geodesics.lengthM(
                  a.latitudeDeg(), a.longitudeDeg(), back.latitudeDeg(), back.longitudeDeg()))
          .isLessThan(1e-6);
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {10, 52.5, 70})
  void anglesAreTrue(double latitude) {
    // Conformal: 15 km from the origin, two steps of 10 m at right angles stay at right angles but
    // for the curvature over a step (10 m / 6,400 km).
    Position origin = new Position(latitude, 8);
    LocalPlane plane = LocalPlane.at(origin);
    Position a = Geodesics.direct(origin, 70, 15_000);
    PlanePoint p = plane.project(a.latitudeDeg(), a.longitudeDeg());
    Position east = Geodesics.direct(a, 100, 10);
    Position south = Geodesics.direct(a, 190, 10);
    PlanePoint q = plane.project(east.latitudeDeg(), east.longitudeDeg());
    PlanePoint r = plane.project(south.latitudeDeg(), south.longitudeDeg());
    double dot = (q.xM() - p.xM()) * (r.xM() - p.xM()) + (q.yM() - p.yM()) * (r.yM() - p.yM());
    assertThat(dot / 100).isCloseTo(0, within(2e-6));
  }
}
