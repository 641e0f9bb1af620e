package milewarden.simulator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

final class TrackSimulatorTest {
  // In the open sea: no place is meant.
  private static final Position ORIGIN = new Position(46.5, -31.5);
  private static final ReferenceCourse STRAIGHT =
      InventedCourse.straight("straight", ORIGIN, 63, 1000);
  private static final double RADIUS_M = 36.8;
  private static final ReferenceCourse CIRCLE =
      InventedCourse.circle("circle", ORIGIN, RADIUS_M, 720);

  private static SimulatedTrack make(Walk walk, Receiver receiver) {
    return TrackSimulator.simulate(walk, receiver, Sky.CLEAR, 7);
  }

  private static double lengthM(Track track) {
    double sum = 0;
    for (int i = 1; i < track.size(); i++) sum += stepM(track, i - 1, i);
    return sum;
  }

  private static double stepM(Track t, int i, int j) {
    return Geodesics.lengthM(
        t.latitudesDeg()[i], t.longitudesDeg()[i], t.latitudesDeg()[j], t.longitudesDeg()[j]);
  }

  @Test
  void aPerfectDeviceOnAStraightRecordsTheMeasuredLength() {
    SimulatedTrack made = make(Walk.of(STRAIGHT), Receiver.PERFECT);
    // Nine decimals are 0.1 mm; the rounding of 715 fixes along a line adds up at its ends only.
    assertThat(lengthM(made.track())).isCloseTo(1000, within(1e-3));
    assertThat(made.recordedM()).hasValueCloseTo(1000.0, within(1e-6));
    // Two geodesics, 15 nm each by the library's statement.
    assertThat(made.truth().referenceM()).isCloseTo(1000, within(3e-8));
    // 1000 m at 1.4 m/s take 714.29 s: fixes at 0 to 714 s and one at the stop.
    assertThat(made.track().size()).isEqualTo(716);
  }

  @Test
  void chordsOnACircleAreShorterByTheSquareOfTheStep() {
    // ENGINE.md section 6 (algebra): fixes every d on a circle of radius R: -d^2 / (24 R^2).
    double d = 4.0;
    ReferenceCourse fine = InventedCourse.circle("fine", ORIGIN, RADIUS_M, 7200);
    Walk walk = Walk.of(fine).withLaps(10).withGait(Gait.RUN, d);
    Track track = make(walk, Receiver.PERFECT).track();
    double expected = -d * d / (24 * RADIUS_M * RADIUS_M);
    double found = lengthM(track) / walk.referenceM() - 1;
    // The next term of the series is (d/R)^4 / 1920 = 7e-8, the polygon of 7200 edges is 3e-8 off
    // its circle, and the last of 578 steps is shorter: below 4.9e-4 / 578 = 8.5e-7.
    assertThat(found).isCloseTo(expected, within(1e-6));
  }

  @Test
  void smoothingShrinksABendByTheClosedForm() {
    // DOMAIN.md section 3 (closed form): R / sqrt(1 + (vT/R)^2).
    double v = 3.5;
    double lag = 4;
    Walk walk = Walk.of(CIRCLE).withLaps(8).withGait(Gait.RUN, v);
    Track track = make(walk, Receiver.PERFECT.withSmoothing(lag)).track();
    double expected = RADIUS_M / Math.sqrt(1 + Math.pow(v * lag / RADIUS_M, 2));
    for (int i = 100; i < track.size(); i += 37) {
      double radius =
          Geodesics.lengthM(
              ORIGIN.latitudeDeg(),
              ORIGIN.longitudeDeg(),
              track.latitudesDeg()[i],
              track.longitudesDeg()[i]);
      // The polygon under the filter stays within its sagitta of the circle, 0.35 mm.
      assertThat(radius).isCloseTo(expected, within(1e-3));
    }
  }

  @Test
  void aFilterThatCarriesASpeedWidensABendByItsTransferFunction() {
    // |H| of Tracker at z = exp(i v / R), T = 1 s, in real numbers.
    double v = 3.5;
    Walk walk = Walk.of(CIRCLE).withLaps(8).withGait(Gait.RUN, v);
    for (Tracker t : List.of(Tracker.critical(0.75), Tracker.optimal(0.4), Tracker.optimal(0.2))) {
      double w = v / RADIUS_M;
      double a = t.alpha();
      double b = t.beta();
      double above = Math.hypot(a + (b - a) * Math.cos(w), (b - a) * Math.sin(w));
      double below =
          Math.hypot(
              1 - (2 - a - b) * Math.cos(w) + (1 - a) * Math.cos(2 * w),
              (2 - a - b) * Math.sin(w) - (1 - a) * Math.sin(2 * w));
      Track track = make(walk, Receiver.PERFECT.withTracker(t)).track();
      // Settled behind the first lap.
      for (int i = 100; i < track.size() - 1; i += 37) {
        double radius =
            Geodesics.lengthM(
                ORIGIN.latitudeDeg(),
                ORIGIN.longitudeDeg(),
                track.latitudesDeg()[i],
                track.longitudesDeg()[i]);
        // The polygon under the filter stays within its sagitta of the circle, 0.35 mm.
        assertThat(radius).as(t.toString()).isCloseTo(RADIUS_M * above / below, within(1e-3));
      }
    }
  }

  @Test
  void aFilterThatCarriesASpeedIsNotLateOnAStraight() {
    Walk walk = Walk.of(InventedCourse.straight("long", ORIGIN, 0, 1000));
    Track filtered = make(walk, Receiver.PERFECT.withTracker(Tracker.critical(0.7))).track();
    Track plain = make(walk, Receiver.PERFECT).track();
    // 0.7^100 of the first seconds is left. The last fix lies between two steps of the filter.
    for (int i = 100; i < plain.size(); i += 50)
      assertThat(filtered.latitudesDeg()[i]).isCloseTo(plain.latitudesDeg()[i], within(2e-9));
  }

  @Test
  void aWristOnTheOutsideOfALoopTravelsTwoPiTimesItsOffsetFurther() {
    // DOMAIN.md section 2: 2 pi 0.35 = 2.2 m per loop. The circle is clockwise: left is outside.
    int laps = 20;
    Walk walk = Walk.of(CIRCLE).withLaps(laps);
    double left = perLap(walk.withCarriage(Carriage.SWING_LEFT), laps);
    double right = perLap(walk.withCarriage(Carriage.SWING_RIGHT), laps);
    double turned =
        perLap(walk.withCarriage(Carriage.SWING_LEFT).withDirection(Direction.REVERSE), laps);
    double excess = 2 * 2 * Math.PI * TrackSimulator.WRIST_M;
    // Chords of both circles differ by d^2/24 (1/R) per step: below 1 mm a lap; nine decimals of
    // degrees at 165 steps a lap: below 1 mm too.
    assertThat(left - right).isCloseTo(excess, within(0.005));
    assertThat(turned - right).isCloseTo(0, within(0.005));
  }

  private static double perLap(Walk walk, int laps) {
    return lengthM(make(walk, Receiver.PERFECT).track()) / laps;
  }

  @Test
  void theInjectedNoiseHasItsSizeAndItsCorrelation() {
    double sigma = 3;
    double time = 20;
    double sumSquares = 0;
    double lagged = 0;
    double laggedCount = 0;
    int count = 0;
    int lag = 10;
    for (long seed = 0; seed < 60; seed++) {
      Receiver receiver = Receiver.PERFECT.withNoise(sigma, time, 0);
      SimulatedTrack made = TrackSimulator.simulate(Walk.of(STRAIGHT), receiver, Sky.CLEAR, seed);
      double[] north = northErrorM(made);
      for (int i = 0; i + 1 < north.length; i++) {
        sumSquares += north[i] * north[i];
        count++;
        if (i + lag + 1 < north.length) {
          lagged += north[i] * north[i + lag];
          laggedCount++;
        }
      }
    }
    double variance = sumSquares / count;
    // A record of length D holds D / T independent values of the square (Bendat & Piersol, Random
    // Data: variance of the mean square of an exponential autocovariance, from memory): 60 x 714 /
    // 20 = 2142, so the variance's own SD is sqrt(2 / 2142) = 3.1 %; four of those.
    assertThat(variance / (sigma * sigma)).isCloseTo(1, within(0.125));
    // exp(-10 s / 20 s) = 0.6065; its sampling error is below that of the variance.
    assertThat(lagged / laggedCount / variance).isCloseTo(Math.exp(-0.5), within(0.06));
  }

  @Test
  void whiteNoiseLengthensAStraightByTheRiceMean() {
    // reference values, section 6 (oed_rice_cases.csv, DERIVED, Monte Carlo agrees): d 10, sigma
    // 3, rho 0: mean excess 0.957833 m a step.
    double excess = 0;
    int steps = 0;
    for (long seed = 0; seed < 60; seed++) {
      Walk walk = Walk.of(STRAIGHT).withGait(Gait.RIDE, 10);
      Receiver receiver = Receiver.PERFECT.withNoise(0, 1, 3);
      Track t = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track();
      for (int i = 1; i < t.size(); i++) {
        excess += stepM(t, i - 1, i) - 10;
        steps++;
      }
    }
    assertThat(steps).isEqualTo(6000);
    // A step's SD is about 3 sqrt 2 = 4.2 m; neighbours are negatively correlated along the line,
    // so 4.2 / sqrt(6000) = 0.055 is an upper bound of the standard error; three of those.
    assertThat(excess / steps).isCloseTo(0.957833, within(0.165));
  }

  private static double[] northErrorM(SimulatedTrack made) {
    double[] errors = new double[made.track().size()];
    for (int i = 0; i < errors.length; i++)
      errors[i] =
          (made.track().latitudesDeg()[i] - made.truth().latitudeDeg()[i])
              // reference values, section 1.3, at 45 degrees; 46.5 differs by 0.03 %.
              * 111131.7774;
    return errors;
  }

  @Test
  void devicesUnderOneSkyShareItsErrorAndNotTheirOwn() {
    Sky sky = new Sky(11, 2, 30, 1, 0);
    Receiver plain = Receiver.PERFECT;
    double[] one = northErrorM(TrackSimulator.simulate(Walk.of(STRAIGHT), plain, sky, 1));
    double[] two = northErrorM(TrackSimulator.simulate(Walk.of(STRAIGHT), plain, sky, 2));
    assertThat(one).isEqualTo(two);
    assertThat(one[300]).isNotEqualTo(0);
    Receiver noisy = Receiver.PERFECT.withNoise(2, 30, 0);
    double[] other = northErrorM(TrackSimulator.simulate(Walk.of(STRAIGHT), noisy, sky, 2));
    assertThat(other[300]).isNotEqualTo(one[300]);
  }

  @Test
  void theSameSeedGivesTheSameTrackAndAnotherAnother() {
    Walk walk = Walk.of(STRAIGHT).withVariation(0.05, 0.2);
    Receiver receiver = Receiver.PERFECT.withNoise(2, 30, 0.5);
    Sky sky = new Sky(3, 1, 60, 1.2, 0.1);
    SimulatedTrack a = TrackSimulator.simulate(walk, receiver, sky, 5);
    SimulatedTrack b = TrackSimulator.simulate(walk, receiver, sky, 5);
    SimulatedTrack c = TrackSimulator.simulate(walk, receiver, sky, 6);
    assertThat(a.track().latitudesDeg()).isEqualTo(b.track().latitudesDeg());
    assertThat(a.track().longitudesDeg()).isEqualTo(b.track().longitudesDeg());
    assertThat(a.track().distancesM()).isEqualTo(b.track().distancesM());
    assertThat(a.track().latitudesDeg()).isNotEqualTo(c.track().latitudesDeg());
    assertThat(a.truth().travelledM()).isEqualTo(c.truth().travelledM());
  }

  @Test
  void theTruthLiesOnTheLineAtItsChainage() {
    Walk walk = Walk.of(STRAIGHT).withGates(40).withLaps(2);
    SimulatedTrack made = make(walk, Receiver.PERFECT);
    Truth truth = made.truth();
    int n = made.track().size();
    assertThat(truth.travelledM()[0]).isEqualTo(-40);
    // Out to 40 m behind the finish, back to 40 m behind the start.
    assertThat(truth.chainageM()[n - 1]).isCloseTo(-40, within(1e-9));
    double furthest = 0;
    for (int i = 0; i < n; i++) {
      furthest = Math.max(furthest, truth.chainageM()[i]);
      Position at =
          truth.chainageM()[i] >= 0
              ? Geodesics.direct(ORIGIN, 63, truth.chainageM()[i])
              : Geodesics.direct(ORIGIN, 63 + 180, -truth.chainageM()[i]);
      double off =
          Geodesics.lengthM(
              at.latitudeDeg(), at.longitudeDeg(), truth.latitudeDeg()[i], truth.longitudeDeg()[i]);
      // A line straight in degrees leaves its geodesic by 1000^2 tan(46.5) / (8 R) = 0.02 m in the
      // middle, RFC 7946 section 3.1.1.
      assertThat(off).isLessThan(0.025);
    }
    assertThat(furthest).isBetween(1037.0, 1040.0);
  }

  @Test
  void standingBeforeAndAfterAndPausingMovesNothing() {
    Walk walk = Walk.of(STRAIGHT).withStanding(20).withPauses(List.of(new Walk.Pause(500, 60)));
    SimulatedTrack made = make(walk, Receiver.PERFECT);
    double[] travelled = made.truth().travelledM();
    assertThat(travelled[0]).isEqualTo(0);
    assertThat(travelled[20]).isEqualTo(0);
    assertThat(travelled[travelled.length - 1]).isCloseTo(1000, within(3e-8));
    long there = java.util.Arrays.stream(travelled).filter(m -> m == 500).count();
    assertThat(there).isBetween(60L, 62L);
    assertThat(made.recordedM()).hasValueCloseTo(1000.0, within(1e-6));
  }

  @Test
  void autoPauseLeavesTheStandOutAndBeginsASegment() {
    Walk walk = Walk.of(STRAIGHT).withPauses(List.of(new Walk.Pause(500, 60)));
    Track kept = make(walk, Receiver.PERFECT).track();
    Track paused = make(walk, Receiver.PERFECT.withAutoPause()).track();
    assertThat(kept.segments()).isEqualTo(1);
    assertThat(paused.segments()).isEqualTo(2);
    assertThat(kept.size() - paused.size()).isBetween(57, 63);
  }

  @Test
  void aLateLockAndAGapLeaveFixesOut() {
    Receiver receiver =
        Receiver.PERFECT
            .withLock(30)
            .withGaps(List.of(new Receiver.Gap(100, 20, false), new Receiver.Gap(300, 10, true)));
    SimulatedTrack made = make(Walk.of(STRAIGHT), receiver);
    assertThat(made.track().size()).isEqualTo(716 - 30 - 20 - 10);
    assertThat(made.track().segments()).isEqualTo(2);
    // 30 s at 1.4 m/s were not counted; in a gap the speed goes on.
    assertThat(made.recordedM()).hasValueCloseTo(1000 - 30 * 1.4, within(0.15));
  }

  @Test
  void coarseDegreesLieOnTheirGrid() {
    Receiver receiver = Receiver.PERFECT.withDecimals(5).withNoise(2, 20, 0);
    for (double lat : make(Walk.of(STRAIGHT), receiver).track().latitudesDeg())
      assertThat(lat * 1e5).isCloseTo(Math.rint(lat * 1e5), within(1e-6));
  }

  @Test
  void anOdometerThatReadsLongDoesSoByItsScale() {
    Receiver receiver = Receiver.PERFECT.withOdometer(new Odometer(Odometer.Source.SPEED, 1.016));
    Sky day = new Sky(0, 0, 1, 1, 0.5);
    SimulatedTrack made = TrackSimulator.simulate(Walk.of(STRAIGHT), receiver, day, 1);
    assertThat(made.recordedM()).hasValueCloseTo(1000 * 1.016 * 1.005, within(1e-6));
  }

  @Test
  void anOdometerOfPositionsCountsTheRecordedLine() {
    Receiver receiver =
        Receiver.PERFECT
            .withNoise(2, 20, 0)
            .withOdometer(new Odometer(Odometer.Source.POSITIONS, 1));
    SimulatedTrack made = make(Walk.of(STRAIGHT), receiver);
    // Nine decimals: 0.1 mm at each of 716 fixes, mostly cancelling.
    assertThat(made.recordedM().getAsDouble())
        .isCloseTo(lengthM(made.track()), within(0.01))
        .isGreaterThan(1000);
  }

  @Test
  void multipathMakesAStretchNoisier() {
    Receiver receiver =
        Receiver.PERFECT
            .withNoise(0, 1, 1)
            .withStretches(List.of(new Receiver.Stretch(400, 600, 5)));
    SimulatedTrack made = make(Walk.of(STRAIGHT), receiver);
    double inside = 0;
    double outside = 0;
    double[] error = northErrorM(made);
    for (int i = 0; i < error.length; i++) {
      double s = made.truth().chainageM()[i];
      if (s >= 400 && s < 600) inside = Math.max(inside, Math.abs(error[i]));
      else outside = Math.max(outside, Math.abs(error[i]));
    }
    // 570 normal values stay within 4.5 sigma; of 143 at 5 sigma the largest is above 7.
    assertThat(outside).isLessThan(4.5);
    assertThat(inside).isGreaterThan(7);
  }
}
