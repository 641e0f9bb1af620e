package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.matching.Shapes;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** What must not change a measurement: each is an identity of geometry, none an example. */
final class MeasuringPropertiesTest {
  private static final MeasureOptions MARKS = MeasureOptions.NONE.withBounds(Bounds.MARKS);
  private static final Receiver NOISY = Receiver.PERFECT.withNoise(2, 20, 0.3);
  private static final int SEEDS = 6;

  private static List<ReferenceCourse> courses() {
    return List.of(Shapes.oval(), Shapes.hairpin(), Shapes.straight(500));
  }

  private static Track walked(ReferenceCourse course, long seed) {
    return TrackSimulator.simulate(Walk.of(course).withStanding(5), NOISY, Sky.CLEAR, seed).track();
  }

  private static ReferenceCourse drawn(ReferenceCourse c, List<Position> line) {
    return InventedCourse.measured(
        c.slug().text(), c.name(), c.closed(), new Polyline(line), c.measuredLengthM());
  }

  /** Every figure of a pass that does not name a place. */
  private static double[] figures(PassMeasurement p) {
    Ladder l = p.ladder();
    return new double[] {
      p.distances().trackM(),
      l.slopeM(),
      l.endsM(),
      l.lineM(),
      l.backtrackM(),
      l.weaveM(),
      l.bendM(),
      l.chordM(),
      p.offset().robustSigmaM(),
      p.offset().rmsM(),
      p.offset().maxAbsM()
    };
  }

  @Test
  void aLineDrawnFromTheOtherEndChangesTheDirectionAndNothingElse() {
    for (ReferenceCourse course : courses())
      for (long seed = 1; seed <= SEEDS; seed++) {
        Track track = walked(course, seed);
        List<Position> line = new ArrayList<>(course.line().positions());
        Collections.reverse(line);
        PassMeasurement one = Made.only(track, course, MARKS);
        PassMeasurement other = Made.only(track, drawn(course, line), MARKS);
        String which = course.slug() + ", seed " + seed;
        assertThat(one.direction()).as(which).isEqualTo(Direction.FORWARD);
        assertThat(other.direction()).as(which).isEqualTo(Direction.REVERSE);
        // The same feet on the same edges; sums of some hundred metres in another order.
        assertThat(figures(other)).as(which).containsExactly(figures(one), within(1e-6));
        assertThat(other.offset().meanM()).isCloseTo(one.offset().meanM(), within(1e-6));
      }
  }

  @Test
  void aTrackRunBackwardsInTimeIsAsLongAndWandersAsMuch() {
    for (ReferenceCourse course : courses())
      for (long seed = 1; seed <= SEEDS; seed++) {
        Track track = walked(course, seed);
        PassMeasurement one = Made.only(track, course, MARKS);
        PassMeasurement other = Made.only(backwards(track), course, MARKS);
        String which = course.slug() + ", seed " + seed;
        assertThat(other.direction()).as(which).isEqualTo(Direction.REVERSE);
        assertThat(figures(other)).as(which).containsExactly(figures(one), within(1e-6));
        // What was to the right is to the left now.
        assertThat(other.offset().meanM()).isCloseTo(-one.offset().meanM(), within(1e-6));
        // Places of the course are places of the course, whichever way one goes.
        for (int bin = 0; bin < one.excessPer10m().size(); bin++)
          assertThat(other.excessPer10m().get(bin))
              .as("%s, bin %d", which, bin)
              .isCloseTo(one.excessPer10m().get(bin), within(1e-6));
      }
  }

  private static Track backwards(Track t) {
    int n = t.size();
    double[] lat = new double[n];
    double[] lon = new double[n];
    long[] times = new long[n];
    for (int i = 0; i < n; i++) {
      lat[i] = t.latitudesDeg()[n - 1 - i];
      lon[i] = t.longitudesDeg()[n - 1 - i];
      times[i] = t.timesMs()[0] + t.timesMs()[n - 1] - t.timesMs()[n - 1 - i];
    }
    return Shapes.with(t, lat, lon, times);
  }

  @Test
  void moreVerticesOnTheSameLineChangeNothing() {
    for (ReferenceCourse course : courses())
      for (long seed = 1; seed <= SEEDS; seed++) {
        Track track = walked(course, seed);
        List<Position> line = new ArrayList<>();
        for (Position p : course.line().positions()) {
          if (!line.isEmpty()) line.addAll(between(line.get(line.size() - 1), p));
          line.add(p);
        }
        double[] one = figures(Made.only(track, course, MARKS));
        double[] other = figures(Made.only(track, drawn(course, line), MARKS));
        // A point on the geodesic lies beside the plane's straight edge by less than a micrometre
        // in 500 m; a fix in the fan of a vertex moves by that much times its offset.
        assertThat(other).as("%s, seed %d", course.slug(), seed).containsExactly(one, within(1e-4));
      }
  }

  private static List<Position> between(Position a, Position b) {
    double length =
        Geodesics.lengthM(a.latitudeDeg(), a.longitudeDeg(), b.latitudeDeg(), b.longitudeDeg());
    double azimuth = Geodesics.azimuthDeg(a, b);
    return List.of(
        Geodesics.direct(a, azimuth, length * 0.3), Geodesics.direct(a, azimuth, length * 0.7));
  }

  @Test
  void aStepWithAFixMoreOnItIsAsLongAndItsPassAsFarOff() {
    for (ReferenceCourse course : courses())
      for (long seed = 1; seed <= SEEDS; seed++) {
        Track track = walked(course, seed);
        PassMeasurement one = Made.only(track, course, MARKS);
        PassMeasurement other = Made.only(halved(track), course, MARKS);
        // Halves of a step of some metres: their sum is the step to rounding, and to the second
        // order of degrees that are no metres, far below.
        assertThat(other.distances().trackM())
            .as("%s, seed %d", course.slug(), seed)
            .isCloseTo(one.distances().trackM(), within(1e-6));
        assertThat(other.ladder().endsM()).isCloseTo(one.ladder().endsM(), within(1e-6));
        LadderIdentityTest.addsUp(other);
      }
  }

  private static Track halved(Track t) {
    int n = 2 * t.size() - 1;
    double[] lat = new double[n];
    double[] lon = new double[n];
    long[] times = new long[n];
    for (int i = 0; i < n; i++) {
      int a = i / 2;
      int b = (i + 1) / 2;
      lat[i] = (t.latitudesDeg()[a] + t.latitudesDeg()[b]) / 2;
      lon[i] = (t.longitudesDeg()[a] + t.longitudesDeg()[b]) / 2;
      times[i] = (t.timesMs()[a] + t.timesMs()[b]) / 2;
    }
    return new Track(
        t.format(),
        lat,
        lon,
        new double[0],
        times,
        new double[0],
        new double[0],
        new int[] {0},
        t.claim(),
        t.claimedTotalM());
  }

  @Test
  void lapsAreRepeatsOfOneLap() {
    for (double inside : new double[] {0, 1.5}) {
      PassMeasurement lap = Made.only(laps(1, inside), Made.circle(64), MARKS);
      PassMeasurement four = Made.only(laps(4, inside), Made.circle(64), MARKS);
      assertThat(four.laps()).isEqualTo(4);
      assertThat(four.distances().referenceM())
          .isCloseTo(4 * lap.distances().referenceM(), within(1e-9));
      double[] one = figures(lap);
      double[] all = figures(four);
      // A fix inside of the vertex at the seam has a foot on either edge, half an edge's turn times
      // its offset apart: either may be taken, at both ends of each lap.
      double seam = 8 * inside * Math.PI / (64 * 60) + 1e-6;
      // Steps of the ladder and the length are sums over steps: four times as much.
      for (int i = 0; i < 8; i++)
        assertThat(all[i])
            .as("figure %d, %s m inside", i, inside)
            .isCloseTo(4 * one[i], within(seam));
      for (int bin = 0; bin < lap.excessPer10m().size(); bin++)
        assertThat(four.excessPer10m().get(bin))
            .isCloseTo(4 * lap.excessPer10m().get(bin), within(seam));
      assertThat(four.errors().trackPercent().orElseThrow())
          .isCloseTo(lap.errors().trackPercent().orElseThrow(), within(1e-6));
      for (PassMeasurement.LapDetail d : four.lapDetails())
        assertThat(d.trackM()).isCloseTo(lap.distances().trackM(), within(seam));
    }
  }

  /** The same wander in every lap, whole steps a lap. */
  private static Track laps(int laps, double insideM) {
    SplittableRandom random = new SplittableRandom(9);
    // No fix but that at the seam lies at a vertex of the 3,840 edges, where two feet are equal.
    int n = 133;
    double[] wander = new double[n];
    for (int i = 1; i < n; i++) wander[i] = 0.8 * random.nextGaussian();
    Made t = new Made();
    for (int i = 0; i <= laps * n; i++) {
      double a = 2 * Math.PI * i / n;
      double r = 64 - insideM + wander[i % n];
      t.fix(i, r * Math.sin(a), r * Math.cos(a));
    }
    return t.track();
  }
}
