package milewarden.accuracy.reference;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import milewarden.accuracy.reference.ReferenceTrack.Compared;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.Position;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Errors of positions at their own times, on tracks laid out by hand. */
final class ReferenceTrackTest {
  private static final Position HERE = new Position(-41.2, 179.9995);
  private static final long ZERO_MS = 1_770_000_000_000L;

  private final LocalPlane plane = LocalPlane.at(HERE);
  private final List<Position> positions = new ArrayList<>();
  private final List<Long> times = new ArrayList<>();
  private final List<Integer> segments = new ArrayList<>(List.of(0));

  private void fix(double second, double eastM, double northM) {
    positions.add(plane.position(eastM, northM));
    times.add(Double.isNaN(second) ? Track.NO_TIME : ZERO_MS + Math.round(1000 * second));
  }

  private Track track() {
    Track track =
        new Track(
            "made",
            positions.stream().mapToDouble(Position::latitudeDeg).toArray(),
            positions.stream().mapToDouble(Position::longitudeDeg).toArray(),
            new double[0],
            times.stream().mapToLong(t -> t).toArray(),
            new double[0],
            new double[0],
            segments.stream().mapToInt(s -> s).toArray(),
            DeviceClaim.NONE,
            OptionalDouble.empty());
    positions.clear();
    times.clear();
    segments.clear();
    segments.add(0);
    return track;
  }

  /** North-east over the antimeridian at 3 m/s, one fix a second. */
  private ReferenceTrack straight(int seconds) {
    for (int i = 0; i <= seconds; i++) fix(i, 2.4 * i, 1.8 * i);
    return ReferenceTrack.of(track());
  }

  @Test
  void aFixBetweenTwoOfTheReferenceIsHeldAgainstTheWayBetweenThem() {
    ReferenceTrack reference = straight(100);
    for (int i = 0; i < 100; i++) fix(i + 0.25, 2.4 * (i + 0.25) + 3, 1.8 * (i + 0.25) - 4);
    Compared c = reference.compare(track());
    PositionErrors e = c.errors().orElseThrow();
    assertThat(e.epochs()).isEqualTo(100);
    assertThat(c.unmatched()).isZero();
    // 3-4-5; the plane is true to a micrometre here.
    assertThat(e.meanEastM()).isCloseTo(3, within(1e-4));
    assertThat(e.meanNorthM()).isCloseTo(-4, within(1e-4));
    assertThat(e.rmseM()).isCloseTo(5, within(1e-4));
    assertThat(e.largestM()).isCloseTo(5, within(1e-4));
    assertThat(c.clockDifferenceS()).isEmpty();
  }

  @Test
  void theHorizontalErrorIsTheGeodesicBetweenBothPlaces() {
    Position from = new Position(63, 12);
    SplittableRandom random = new SplittableRandom(4);
    for (int i = 0; i < 50; i++) {
      double azimuth = random.nextDouble(360);
      double far = random.nextDouble(200);
      Position to = Geodesics.direct(from, azimuth, far);
      ReferenceTrack reference = ReferenceTrack.of(one(from));
      Epoch e = reference.compare(one(to)).epochs().get(0);
      // LocalMetric is within 0.001 mm per km of the geodesic.
      assertThat(e.horizontalM()).isCloseTo(far, within(1e-6));
      double found = Math.toDegrees(Math.atan2(e.eastM(), e.northM()));
      // The mean latitude's direction is that of the middle of the way: 200 m turn by 0.002 deg.
      if (far > 1) assertThat(Math.IEEEremainder(found - azimuth, 360)).isCloseTo(0, within(0.002));
    }
  }

  private static Track one(Position at) {
    return new Track(
        "made",
        new double[] {at.latitudeDeg()},
        new double[] {at.longitudeDeg()},
        new double[0],
        new long[] {ZERO_MS},
        new double[0],
        new double[0],
        new int[] {0},
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }

  @Test
  void nothingIsSaidOverAGapOrBeyondTheEnds() {
    for (int i = 0; i <= 20; i++) fix(i, 3.0 * i, 0);
    // 20 s without a place, in the middle of a segment.
    for (int i = 40; i <= 60; i++) fix(i, 3.0 * i, 0);
    segments.add(positions.size());
    for (int i = 62; i <= 80; i++) fix(i, 3.0 * i, 0);
    ReferenceTrack reference = ReferenceTrack.of(track());
    List<Double> seconds = List.of(-1.0, 0.0, 20.0, 20.5, 30.0, 40.0, 60.0, 61.0, 62.0, 80.0, 80.1);
    for (double s : seconds) fix(s, 3 * s, 0);
    fix(Double.NaN, 0, 0);
    Compared c = reference.compare(track());
    assertThat(c.epochs().stream().map(e -> (e.at().toEpochMilli() - ZERO_MS) / 1000.0).toList())
        .containsExactly(0.0, 20.0, 40.0, 60.0, 62.0, 80.0);
    assertThat(c.unmatched()).isEqualTo(6);
    assertThat(c.errors().orElseThrow().largestM()).isCloseTo(0, within(1e-4));
  }

  @Test
  void theReferenceMayBeTenTimesAsDense() {
    for (int i = 0; i <= 1000; i++) fix(i / 10.0, 0.3 * i, 0);
    ReferenceTrack reference = ReferenceTrack.of(track());
    for (int i = 0; i <= 100; i++) fix(i, 3.0 * i, 1);
    Compared c = reference.compare(track());
    assertThat(c.epochs()).hasSize(101);
    assertThat(c.errors().orElseThrow().rmseM()).isCloseTo(1, within(1e-5));
  }

  @Test
  void anotherClockIsFoundAndNothingIsCorrected() {
    for (int i = 0; i <= 300; i++) fix(i, 100 * Math.sin(i / 30.0), 100 * Math.cos(i / 30.0));
    ReferenceTrack reference = ReferenceTrack.of(track());
    SplittableRandom random = new SplittableRandom(6);
    // Satellite time, 18 leap seconds ahead of UTC since 2017.
    for (int i = 0; i <= 250; i++)
      fix(
          i + 18,
          100 * Math.sin(i / 30.0) + random.nextGaussian(),
          100 * Math.cos(i / 30.0) + random.nextGaussian());
    Compared c = reference.compare(track());
    assertThat(c.clockDifferenceS().orElseThrow()).isEqualTo(-18);
    // A chord of 18 s on the circle: 2 r sin(18 / 60).
    assertThat(c.errors().orElseThrow().rmseM()).isCloseTo(200 * Math.sin(18 / 60.0), within(0.5));
  }

  @Test
  void withoutTimesOrInAnotherHourThereIsNothingToCompare() {
    ReferenceTrack reference = straight(100);
    for (int i = 0; i < 50; i++) fix(3600 + i, i, i);
    Compared later = reference.compare(track());
    assertThat(later.errors()).isEmpty();
    assertThat(later.unmatched()).isEqualTo(50);
    assertThat(later.clockDifferenceS()).isEmpty();
    for (int i = 0; i < 50; i++) fix(Double.NaN, i, i);
    ReferenceTrack timeless = ReferenceTrack.of(track());
    assertThat(timeless.startedAt()).isEmpty();
    fix(0, 0, 0);
    assertThat(timeless.compare(track()).errors()).isEmpty();
  }

  @Test
  void whateverTimesAReferenceTrackHasNoErrorIsNoNumber() {
    for (long seed = 1; seed <= 200; seed++) {
      SplittableRandom r = new SplittableRandom(seed);
      ReferenceTrack reference = any(r);
      Compared c = reference.compare(anyTrack(r));
      String text = c.errors() + " " + c.epochs();
      assertThat(text).as("seed %d", seed).doesNotContain("NaN").doesNotContain("Infinity");
    }
  }

  private static ReferenceTrack any(SplittableRandom r) {
    return ReferenceTrack.of(anyTrack(r));
  }

  private static Track anyTrack(SplittableRandom r) {
    int n = 1 + r.nextInt(40);
    double[] lat = new double[n];
    double[] lon = new double[n];
    long[] time = new long[n];
    for (int i = 0; i < n; i++) {
      lat[i] = r.nextInt(10) == 0 ? (r.nextBoolean() ? 90 : -90) : r.nextDouble(-90, 90);
      lon[i] = r.nextDouble(-180, 180);
      time[i] = r.nextInt(6) == 0 ? Track.NO_TIME : r.nextInt(20_000);
    }
    return new Track(
        "made",
        lat,
        lon,
        new double[0],
        time,
        new double[0],
        new double[0],
        n > 4 ? new int[] {0, n / 2} : new int[] {0},
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }
}
