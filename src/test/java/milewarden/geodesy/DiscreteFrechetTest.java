package milewarden.geodesy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.algorithm.distance.DiscreteFrechetDistance;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.io.WKTReader;

/** Against published cases and a general-purpose geometry library: geodesy/SOURCE.txt. */
final class DiscreteFrechetTest {
  private static double ours(Geometry a, Geometry b) {
    return DiscreteFrechet.distanceM(axis(a, 0), axis(a, 1), axis(b, 0), axis(b, 1));
  }

  private static double[] axis(Geometry g, int ordinate) {
    double[] values = new double[g.getNumPoints()];
    for (int i = 0; i < values.length; i++) values[i] = g.getCoordinates()[i].getOrdinate(ordinate);
    return values;
  }

  @Test
  void thePublishedCasesComeOut() throws Exception {
    int cases = 0;
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                Objects.requireNonNull(
                    getClass().getResourceAsStream("/geodesy/frechet_hausdorff_cases.csv")),
                StandardCharsets.US_ASCII))) {
      in.readLine();
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        String[] quoted = line.split("\"");
        Geometry a = new WKTReader().read(quoted[1]);
        Geometry b = new WKTReader().read(quoted[3]);
        double expected = Double.parseDouble(quoted[4].split(",")[1]);
        // A square root and some roundings.
        assertThat(ours(a, b)).as(line).isCloseTo(expected, within(1e-12 * expected));
        assertThat(ours(b, a)).as("the other way round").isEqualTo(ours(a, b));
        cases++;
      }
    }
    assertThat(cases).isEqualTo(9);
  }

  @Test
  void anotherLibraryFindsTheSameOnRandomLines() {
    GeometryFactory geometry = new GeometryFactory();
    SplittableRandom random = new SplittableRandom(8);
    for (int round = 0; round < 200; round++) {
      Geometry a = geometry.createLineString(random(random));
      Geometry b = geometry.createLineString(random(random));
      assertThat(ours(a, b))
          .as("round %d", round)
          .isCloseTo(DiscreteFrechetDistance.distance(a, b), within(1e-9));
    }
  }

  private static Coordinate[] random(SplittableRandom random) {
    Coordinate[] c = new Coordinate[2 + random.nextInt(40)];
    for (int i = 0; i < c.length; i++)
      c[i] = new Coordinate(10 * i + random.nextDouble(30), random.nextDouble(-20, 20));
    return c;
  }

  @Test
  void aLineMovedAsideIsAsFarApartAsItWasMoved() {
    // Over the antimeridian; a plane is true to a micrometre here.
    LocalPlane plane = LocalPlane.at(new Position(-37, 179.999));
    List<Position> one = new ArrayList<>();
    List<Position> other = new ArrayList<>();
    for (int i = 0; i <= 20; i++) {
      one.add(plane.position(40 * i - 400, 30 * Math.sin(i)));
      other.add(plane.position(40 * i - 400, 30 * Math.sin(i) + 7));
    }
    assertThat(new Polyline(one).apartM(new Polyline(other))).isCloseTo(7, within(1e-5));
    assertThat(new Polyline(one).apartM(new Polyline(one))).isZero();
    // More vertices on the same line are no other line: less than a step of 2 m.
    List<Position> more = new ArrayList<>(one);
    more.add(1, plane.position(-380, 15 * Math.sin(1)));
    assertThat(new Polyline(one).apartM(new Polyline(more))).isLessThan(2);
  }
}
