package milewarden.simulator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.IntStream;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.format.GpxWriter;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.simulator.Odometer.Lost;
import milewarden.simulator.Odometer.Source;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Every switch of the simulator against a closed form or a statistic with its standard error. */
final class SimulatedDeviceTest {
  // In the open sea: no place is meant. Due north, so that north is along and east is beside.
  private static final Position ORIGIN = new Position(46.5, -31.5);
  private static final ReferenceCourse NORTH = InventedCourse.straight("north", ORIGIN, 0, 1000);
  private static final ReferenceCourse CIRCLE = InventedCourse.circle("circle", ORIGIN, 36.8, 720);
  private static final double V = 1.4;

  private static SimulatedTrack make(Walk walk, Receiver receiver) {
    return TrackSimulator.simulate(walk, receiver, Sky.CLEAR, 7);
  }

  /** Metres from the start northward, by the geodesic library. */
  private static double northM(Track t, int i) {
    double m =
        Geodesics.lengthM(
            ORIGIN.latitudeDeg(),
            ORIGIN.longitudeDeg(),
            t.latitudesDeg()[i],
            ORIGIN.longitudeDeg());
    return t.latitudesDeg()[i] < ORIGIN.latitudeDeg() ? -m : m;
  }

  private static double eastM(Track t, int i) {
    double lat = t.latitudesDeg()[i];
    double m = Geodesics.lengthM(lat, ORIGIN.longitudeDeg(), lat, t.longitudesDeg()[i]);
    return t.longitudesDeg()[i] < ORIGIN.longitudeDeg() ? -m : m;
  }

  private static double secondOf(Track t, int i) {
    return (t.timesMs()[i] - t.timesMs()[0]) / 1000.0;
  }

  @Test
  void aSwingingWristGoesForeAndAftAtItsOwnFrequencyAndStaysBesideTheBody() {
    Walk walk = Walk.of(NORTH).withCarriage(Carriage.SWING_RIGHT);
    Track t = make(walk, Receiver.PERFECT.withInterval(0.1)).track();
    // 600 s hold 570 whole periods of 0.95 Hz: the Fourier sums of all else are 0.
    int n = 6000;
    assertThat(amplitude(t, n, 0.95)).isCloseTo(TrackSimulator.SWING_M, within(1e-3));
    assertThat(amplitude(t, n, 0.5)).isCloseTo(0, within(1e-3));
    assertThat(amplitude(t, n, 1.9)).isCloseTo(0, within(1e-3));
    for (int i = 0; i < n; i += 97) assertThat(eastM(t, i)).isCloseTo(0.35, within(1e-3));
  }

  /** Of the motion along the line about its even pace. */
  private static double amplitude(Track t, int n, double hertz) {
    double cos = 0;
    double sin = 0;
    for (int i = 0; i < n; i++) {
      double s = 0.1 * i;
      double y = northM(t, i) - V * s;
      cos += y * Math.cos(2 * Math.PI * hertz * s);
      sin += y * Math.sin(2 * Math.PI * hertz * s);
    }
    return 2 * Math.hypot(cos, sin) / n;
  }

  @Test
  void aFilterShowsEveryPlaceLateBySpeedTimesLag() {
    // Ramp response of a first-order lag (algebra): y = v (t - T) once exp(-t / T) has died away.
    Track t = make(Walk.of(NORTH), Receiver.PERFECT.withSmoothing(4)).track();
    for (int i = 100; i < 700; i += 50)
      assertThat(northM(t, i)).isCloseTo(V * (i - 4), within(1e-3));
  }

  @Test
  void aDetourLengthensTheWayByItsArc() {
    double out = 5;
    double length = 200;
    Walk walk = Walk.of(NORTH).withDetours(List.of(new Walk.Detour(300, length, out)));
    SimulatedTrack made = make(walk, Receiver.PERFECT);
    // Arc of w sin^2(pi x / L), series (algebra): pi^2 w^2 / (4 L) - 3 pi^4 w^4 / (64 L^3).
    double extra =
        Math.pow(Math.PI * out, 2) / (4 * length)
            - 3 * Math.pow(Math.PI * out, 4) / (64 * Math.pow(length, 3));
    // The next term is below 2e-6; chords of 0.14 m of a curve this flat: below 1e-6.
    assertThat(made.recordedM().getAsDouble() - 1000).isCloseTo(extra, within(1e-5));
    double furthest = 0;
    for (int i = 0; i < made.track().size(); i++) {
      furthest = Math.max(furthest, eastM(made.track(), i));
      double s = made.truth().travelledM()[i];
      assertThat(made.truth().offCourse()[i]).isEqualTo(s > 300 && s < 500);
    }
    assertThat(furthest).isCloseTo(out, within(0.01));
  }

  @Test
  void outliersAreAsManyAndAsFarAsOrdered() {
    double share = 0.05;
    int fixes = 0;
    int out = 0;
    for (long seed = 0; seed < 20; seed++) {
      Receiver receiver = Receiver.PERFECT.withOutliers(share, 80);
      SimulatedTrack made = TrackSimulator.simulate(Walk.of(NORTH), receiver, Sky.CLEAR, seed);
      for (int i = 0; i < made.track().size(); i++) {
        fixes++;
        double off =
            Geodesics.lengthM(
                made.truth().latitudeDeg()[i],
                made.truth().longitudeDeg()[i],
                made.track().latitudesDeg()[i],
                made.track().longitudesDeg()[i]);
        boolean outlier = made.truth().outlier()[i];
        if (outlier) out++;
        assertThat(off).isCloseTo(outlier ? 80 : 0, within(0.01));
      }
    }
    // Binomial: four standard errors.
    double error = Math.sqrt(share * (1 - share) / fixes);
    assertThat((double) out / fixes).isCloseTo(share, within(4 * error));
  }

  @Test
  void snappingTakesTheNoiseBesideTheLineAndLeavesThatAlongIt() {
    double squares = 0;
    int count = 0;
    for (long seed = 0; seed < 20; seed++) {
      Receiver receiver = Receiver.PERFECT.withNoise(0, 1, 3).withSnapping();
      Track t = TrackSimulator.simulate(Walk.of(NORTH), receiver, Sky.CLEAR, seed).track();
      for (int i = 0; i < 714; i++) {
        assertThat(eastM(t, i)).isCloseTo(0, within(1e-3));
        squares += Math.pow(northM(t, i) - V * i, 2);
        count++;
      }
    }
    // The SD of a variance of n normal values is its sqrt(2 / n): four of those.
    assertThat(squares / count / 9).isCloseTo(1, within(4 * Math.sqrt(2.0 / count)));
  }

  @Test
  void smartRecordingWritesAtTurnsAndElseAtItsLongest() {
    Receiver smart = Receiver.PERFECT.withSmart(new Receiver.Smart(8, 10));
    Track straight = make(Walk.of(NORTH), smart).track();
    for (int i = 1; i + 1 < straight.size(); i++)
      assertThat(secondOf(straight, i) - secondOf(straight, i - 1)).isEqualTo(8);
    // At 3.68 m/s on a radius of 36.8 m the way turns by 0.1 rad = 5.73 degrees a second: 10
    // degrees are passed every second second.
    Track bend = make(Walk.of(CIRCLE).withLaps(3).withGait(Gait.RUN, 3.68), smart).track();
    for (int i = 3; i + 1 < bend.size(); i++)
      assertThat(secondOf(bend, i) - secondOf(bend, i - 1)).isEqualTo(2);
  }

  @Test
  void aStepCounterCountsStepsTimesTheirLengthWithOrWithoutPositions() {
    // 0.95 strides a second are 1.9 steps; 0.75 m each for 714.3 s.
    Receiver receiver =
        Receiver.PERFECT.withOdometer(Odometer.ofSteps(0.75)).withLock(60).withCadence();
    SimulatedTrack made = make(Walk.of(NORTH), receiver);
    double seconds = secondOf(make(Walk.of(NORTH), Receiver.PERFECT).track(), 715);
    assertThat(made.recordedM().getAsDouble()).isCloseTo(1.9 * 0.75 * seconds, within(0.15));
    for (int i = 0; i < 600; i += 60)
      // Steps of one foot a minute.
      assertThat(made.track().cadencesPerMin()[i]).isCloseTo(57, within(1e-6));
  }

  @Test
  void aStepCounterGoesOnWhileItsWearerStandsAndMovesAnArm() {
    Walk walk = Walk.of(NORTH).withPauses(List.of(new Walk.Pause(500, 60)));
    Odometer still = Odometer.ofSteps(0.75);
    double without = recordedM(walk, still);
    double with = recordedM(walk, still.withIdleSteps(40));
    assertThat(with - without).isCloseTo(40 * 0.75, within(0.1));
  }

  private static double recordedM(Walk walk, Odometer odometer) {
    return make(walk, Receiver.PERFECT.withOdometer(odometer)).recordedM().getAsDouble();
  }

  @Test
  void withoutAPositionTheDistanceGoesOnStandsStillOrCountsSteps() {
    Receiver gap = Receiver.PERFECT.withGaps(List.of(new Receiver.Gap(200, 50, false)));
    Walk walk = Walk.of(NORTH);
    double inGap = 50 * V;
    double steps = 50 * 1.9 * 0.9;
    for (Lost lost : Lost.values()) {
      double found =
          make(walk, gap.withOdometer(Odometer.ofSpeed(lost, 0.9))).recordedM().getAsDouble();
      double expected =
          switch (lost) {
            case GOES_ON -> 1000;
            case STANDS_STILL -> 1000 - inGap;
            case COUNTS_STEPS -> 1000 - inGap + steps;
          };
      assertThat(found).describedAs("%s", lost).isCloseTo(expected, within(0.15));
    }
    // Positions bridge the hole by a straight step.
    double bridged =
        make(walk, gap.withOdometer(new Odometer(Source.POSITIONS, 1))).recordedM().getAsDouble();
    assertThat(bridged).isCloseTo(1000, within(0.01));
  }

  @Test
  void theCorrelationFallsExponentiallyAndWhiteNoiseIsInItsFirstValueAlone() {
    double sigma = 2;
    double time = 15;
    double white = 1;
    double[] lagged = new double[31];
    long[] counts = new long[31];
    double across = 0;
    for (long seed = 0; seed < 80; seed++) {
      Receiver receiver = Receiver.PERFECT.withNoise(sigma, time, white);
      Track t = TrackSimulator.simulate(Walk.of(NORTH), receiver, Sky.CLEAR, seed).track();
      double[] along = IntStream.range(0, 714).mapToDouble(i -> northM(t, i) - V * i).toArray();
      double[] beside = IntStream.range(0, 714).mapToDouble(i -> eastM(t, i)).toArray();
      for (int lag = 0; lag <= 30; lag += 5)
        for (int i = lag; i < 714; i++) {
          lagged[lag] += along[i] * along[i - lag];
          counts[lag]++;
        }
      for (int i = 0; i < 714; i++) across += along[i] * beside[i];
    }
    // A record of length D holds about D / T independent values (Bendat and Piersol, Random Data,
    // from memory): 80 x 714 / 15 = 3808, so an autocovariance has an SD of at most
    // (sigma^2 + white^2) sqrt(2 / 3808) = 0.115 m^2; four of those.
    double tolerance = 4 * 5 * Math.sqrt(2.0 / 3808);
    assertThat(lagged[0] / counts[0]).isCloseTo(sigma * sigma + white * white, within(tolerance));
    for (int lag = 5; lag <= 30; lag += 5)
      assertThat(lagged[lag] / counts[lag])
          .describedAs("lag %d", lag)
          .isCloseTo(sigma * sigma * Math.exp(-lag / time), within(tolerance));
    assertThat(across / counts[0]).isCloseTo(0, within(tolerance));
  }

  @Test
  void twoDevicesOfADayAreAsAlikeAsTheSharedPartOfTheirErrors() {
    double common = 2;
    double own = 1;
    double both = 0;
    double one = 0;
    int days = 60;
    for (int day = 0; day < days; day++) {
      Sky sky = new Sky(day, common, 15, 1, 0);
      Receiver receiver = Receiver.PERFECT.withNoise(own, 15, 0);
      Track a = TrackSimulator.simulate(Walk.of(NORTH), receiver, sky, 1000 + day).track();
      Track b = TrackSimulator.simulate(Walk.of(NORTH), receiver, sky, 2000 + day).track();
      for (int i = 0; i < 714; i++) {
        both += eastM(a, i) * eastM(b, i);
        one += eastM(a, i) * eastM(a, i);
      }
    }
    // Expected common^2 / (common^2 + own^2) = 0.8; 60 x 714 / 15 = 2856 independent values: the
    // SD of a correlation is below 1 / sqrt(2856) = 0.019; four of those.
    assertThat(both / one).isCloseTo(0.8, within(0.075));
  }

  @Test
  void aDayMakesEveryDeviceReadLongByTheSame() {
    Sky day = new Sky(1, 0, 1, 1, 0.8);
    for (double scale : new double[] {0.99, 1, 1.02}) {
      Receiver receiver = Receiver.PERFECT.withOdometer(new Odometer(Source.SPEED, scale));
      double found =
          TrackSimulator.simulate(Walk.of(NORTH), receiver, day, 5).recordedM().getAsDouble();
      assertThat(found / (1000 * scale)).isCloseTo(1.008, within(1e-9));
    }
  }

  @Test
  void theTruthTellsLapStandingAndTime() {
    Walk walk =
        Walk.of(CIRCLE).withLaps(3).withGates(20).withPauses(List.of(new Walk.Pause(50, 30)));
    SimulatedTrack made = make(walk, Receiver.PERFECT);
    Truth truth = made.truth();
    double lap = CIRCLE.horizontalM();
    int stood = 0;
    for (int i = 0; i < made.track().size(); i++) {
      double s = truth.travelledM()[i];
      boolean outside = s < 0 || s > 3 * lap;
      // At a seam itself either lap is right.
      if (Math.abs(s / lap - Math.rint(s / lap)) > 1e-6)
        assertThat(truth.lap()[i]).isEqualTo(outside ? 0 : (int) Math.floor(s / lap) + 1);
      if (truth.standing()[i] && Math.abs(s - 50) < 1e-6) stood++;
      assertThat(truth.timesMs()[i]).isEqualTo(made.track().timesMs()[i]);
    }
    assertThat(stood).isBetween(29, 31);
  }

  @Test
  void spoiltFilesHaveAsManyFaultsAsOrdered() {
    Faults faults = new Faults(4, 3, 5, 2);
    SimulatedTrack made = make(Walk.of(NORTH), Receiver.PERFECT);
    Track t = faults.spoil(made, 3).track();
    int same = 0;
    int back = 0;
    int stands = 0;
    int jumps = 0;
    for (int i = 1; i < t.size(); i++) {
      long gone = t.timesMs()[i] - t.timesMs()[i - 1];
      if (gone == 0) same++;
      if (gone < 0) back++;
      if (t.latitudesDeg()[i] == t.latitudesDeg()[i - 1]) stands++;
      if (northM(t, i) - northM(t, i - 1) > 200) jumps++;
    }
    assertThat(new int[] {same, back, stands, jumps}).containsExactly(4, 3, 5, 2);
    assertThat(made.truth().timesMs()).isEqualTo(made.track().timesMs());
  }

  @Test
  void aWrittenFileCarriesTheCadence() {
    String text = GpxWriter.write(make(Walk.of(NORTH), Receiver.PERFECT.withCadence()).track());
    assertThat(text).contains("<mw:cad>57</mw:cad>");
  }
}
