package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.TrackMeasurement.Finding.Code;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.matching.Shapes;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Passes, distances and findings of whole recordings. */
final class MeasurerTest {
  private static final Receiver NOISY = Receiver.PERFECT.withNoise(3, 20, 0.3);

  private static Track track(Walk walk, Receiver receiver, long seed) {
    return TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track();
  }

  private static List<Code> codes(TrackMeasurement m) {
    return m.findings().stream().map(Finding::code).toList();
  }

  @Test
  void aRecordingThatGoesOnBeyondBothMarksIsCutByGates() {
    ReferenceCourse course = Shapes.hairpin();
    for (long seed = 1; seed <= 20; seed++) {
      SimulatedTrack s =
          TrackSimulator.simulate(Walk.of(course).withGates(80), NOISY, Sky.CLEAR, seed);
      TrackMeasurement m = Measurer.measure(s.track(), course, MeasureOptions.NONE);
      assertThat(m.passes()).as("seed %d", seed).hasSize(1);
      PassMeasurement p = m.passes().get(0);
      assertThat(p.bounds()).isEqualTo(Bounds.GATES);
      assertThat(codes(m)).contains(Code.BOUNDS_GUESSED);
      // The gates are on the line: nothing is left for the ends, whatever the noise.
      assertThat(p.ladder().endsM()).isCloseTo(0, within(1e-9));
      // True time between the marks at 1.4 m/s; a gate carries the noise of one fix, 3 m, at each.
      double walked = course.horizontalM() / 1.4;
      assertThat(p.durationS().orElseThrow()).isCloseTo(walked, within(6 * 3 / 1.4));
      assertThat(p.startedAt()).isPresent();
    }
  }

  @Test
  void aRecordingFromMarkToMarkIsThePassWhole() {
    ReferenceCourse course = Shapes.hairpin();
    for (long seed = 1; seed <= 20; seed++) {
      Track t = track(Walk.of(course).withStanding(15), NOISY, seed);
      TrackMeasurement m = Measurer.measure(t, course, MeasureOptions.NONE);
      assertThat(m.passes()).as("seed %d", seed).hasSize(1);
      assertThat(m.passes().get(0).bounds()).isEqualTo(Bounds.MARKS);
      // Everything recorded counts, the standing too.
      assertThat(m.passes().get(0).distances().trackM()).isCloseTo(m.trackLengthM(), within(1e-9));
    }
  }

  @Test
  void aTagDecidesTheBoundsAgainstTheGuess() {
    ReferenceCourse course = Shapes.hairpin();
    Track t = track(Walk.of(course).withGates(80), NOISY, 3);
    PassMeasurement p = Made.only(t, course, MeasureOptions.NONE.withBounds(Bounds.MARKS));
    assertThat(p.bounds()).isEqualTo(Bounds.MARKS);
    // Two leads of 80 m are the ends' error now; each end has the noise of one fix.
    assertThat(p.ladder().endsM()).isCloseTo(160.0, within(20.0));
    assertThat(codes(Measurer.measure(t, course, MeasureOptions.NONE.withBounds(Bounds.MARKS))))
        .doesNotContain(Code.BOUNDS_GUESSED);
  }

  @Test
  void lapsBetweenGatesAddUpToTheirWhole() {
    ReferenceCourse course = Shapes.oval();
    Track t = track(Walk.of(course).withLaps(5).withGates(60), NOISY, 4);
    TrackMeasurement m = Measurer.measure(t, course, MeasureOptions.NONE);
    assertThat(m.passes()).hasSize(5);
    for (int i = 1; i < 5; i++) {
      PassMeasurement before = m.passes().get(i - 1);
      PassMeasurement lap = m.passes().get(i);
      double end =
          before.startedAt().orElseThrow().toEpochMilli() + 1000 * before.durationS().orElseThrow();
      // One instant ends a lap and begins the next; instants are kept to the millisecond.
      assertThat((double) lap.startedAt().orElseThrow().toEpochMilli()).isCloseTo(end, within(2.0));
    }
    PassMeasurement whole =
        Made.only(
            track(Walk.of(course).withLaps(5), Receiver.PERFECT, 4), course, MeasureOptions.NONE);
    assertThat(whole.laps()).isEqualTo(5);
    assertThat(whole.lapDetails()).hasSize(5);
    assertThat(whole.lapDetails().stream().mapToDouble(l -> l.trackM()).sum())
        .isCloseTo(whole.distances().trackM(), within(1e-6));
    assertThat(whole.distances().referenceM()).isCloseTo(5 * course.referenceM(), within(1e-9));
  }

  @Test
  void partialLapsAreLeftOutAndNamed() {
    ReferenceCourse course = Shapes.oval();
    Walk walk = Walk.of(course).withLaps(4).withStartChainage(170);
    TrackMeasurement m = Measurer.measure(track(walk, NOISY, 5), course, MeasureOptions.NONE);
    assertThat(m.passes()).hasSize(3);
    assertThat(codes(m)).filteredOn(Code.PARTIAL_LAP::equals).hasSize(2);
    m.passes().forEach(p -> assertThat(p.bounds()).isEqualTo(Bounds.GATES));
  }

  @Test
  void outAndBackOnAnOpenCourseIsTwoPasses() {
    ReferenceCourse course = Shapes.straight(800);
    for (double lead : new double[] {0, 60})
      for (long seed = 1; seed <= 10; seed++) {
        Walk walk = Walk.of(course).withLaps(2);
        if (lead > 0) walk = walk.withGates(lead);
        TrackMeasurement m =
            Measurer.measure(track(walk, NOISY, seed), course, MeasureOptions.NONE);
        assertThat(m.passes().stream().map(PassMeasurement::direction).toList())
            .as("lead %s, seed %d: %s", lead, seed, m.findings())
            .containsExactly(Direction.FORWARD, Direction.REVERSE);
      }
  }

  @Test
  void oneReadingBehindTheWayOutAndBackIsTheTotalOfBoth() {
    ReferenceCourse course = Made.measured(Shapes.straight(0.25 * 1609.344), 0.25 * 1609.344);
    Reading total = new Reading(0.49, LengthUnit.MILE, 0.01, Rounding.UNKNOWN);
    for (long seed = 1; seed <= 10; seed++) {
      Track t = track(Walk.of(course).withLaps(2), NOISY, seed);
      TrackMeasurement m = Measurer.measure(t, course, MeasureOptions.NONE.withShown(total));
      assertThat(m.passes()).as("seed %d: %s", seed, m.findings()).hasSize(1);
      PassMeasurement p = m.passes().get(0);
      assertThat(p.laps()).isEqualTo(2);
      assertThat(p.lapDetails()).hasSize(2);
      assertThat(p.distances().referenceM()).isCloseTo(0.5 * 1609.344, within(1e-9));
      // Common practice, no source: 0.49 mi for 0.50 mi is -2 %.
      assertThat(p.errors().shownAsReadPercent().orElseThrow()).isCloseTo(-2, within(1e-9));
      LadderIdentityTest.addsUp(p);
      assertThat(p.distances().trackM()).isCloseTo(m.trackLengthM(), within(1e-6));
      assertThat(p.distances().recordedM().orElseThrow())
          .isCloseTo(m.recordedLengthM().orElseThrow(), within(1e-9));
    }
  }

  @Test
  void theDevicesOwnDistanceBetweenGatesIsReadBetweenItsFixes() {
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 100});
    Made t = new Made();
    // 3 m a fix, counted 2 % long: gates fall between fixes, and by straight lines 102 m apart.
    for (int i = -30; i <= 70; i++) t.fix(i + 30, 0, 3.0 * i + 1, 1.02 * 3 * (i + 30));
    PassMeasurement p = Made.only(t.track(), course, MeasureOptions.NONE);
    assertThat(p.bounds()).isEqualTo(Bounds.GATES);
    assertThat(p.distances().recordedM().orElseThrow()).isCloseTo(102, within(1e-5));
    assertThat(p.distances().trackM()).isCloseTo(100, within(1e-5));
    assertThat(p.durationS().orElseThrow()).isCloseTo(100.0 / 3, within(1e-5));
    assertThat(p.errors().recordedPercent().orElseThrow()).isCloseTo(2, within(1e-5));
    assertThat(p.errors().trackPercent().orElseThrow()).isCloseTo(0, within(1e-5));
  }

  @Test
  void aWholeRecordingCountsTheDevicesTotal() {
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 100});
    Made t = new Made();
    for (int i = 0; i <= 50; i++) t.fix(i, 0, 2.0 * i, 3 + 2.0 * i);
    PassMeasurement p = Made.only(t.track(), course, MeasureOptions.NONE);
    // 3 m were on the counter before the first fix: the device counts them, so do we.
    assertThat(p.distances().recordedM().orElseThrow()).isCloseTo(103, within(1e-9));
  }

  @Test
  void theJumpBetweenSegmentsIsNoPartOfTheTrack() {
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 400});
    Made t = new Made();
    for (int i = 0; i <= 100; i++) t.fix(i, 0, 2.0 * i);
    t.segment();
    for (int i = 150; i <= 200; i++) t.fix(i, 0, 2.0 * i);
    TrackMeasurement m = Measurer.measure(t.track(), course, MeasureOptions.NONE);
    PassMeasurement p = m.passes().get(0);
    assertThat(p.distances().trackM()).isCloseTo(300, within(1e-4));
    assertThat(p.ladder().endsM()).isCloseTo(-100, within(1e-4));
    assertThat(p.ladder().backtrackM()).isCloseTo(0, within(1e-4));
    assertThat(codes(m)).contains(Code.PAUSED);
    assertThat(m.recording().gaps()).isEqualTo(1);
  }

  @Test
  void aHillIsTakenOutOfTheReferenceOfTheTrackAlone() {
    ReferenceCourse flat = Made.open(new double[] {0, 0}, new double[] {0, 300});
    // A 3-4-5 slope: 500 m along it are 400 m of map, after 100 m... scaled down: 50 along, 40, 30.
    double along = 310;
    ReferenceCourse hilly =
        new ReferenceCourse(
            flat.slug(),
            flat.version(),
            flat.name(),
            false,
            flat.line(),
            List.of(),
            along,
            0.1,
            Optional.empty(),
            "",
            flat.method(),
            flat.safetyFactor(),
            flat.meanHeightM(),
            List.of(
                new ReferenceCourse.HeightPoint(100, 0), new ReferenceCourse.HeightPoint(150, 30)),
            flat.corridorM(),
            "",
            flat.skyView(),
            "",
            flat.otherProperties());
    Made t = new Made();
    for (int i = 0; i <= 150; i++) t.fix(i, 0, 2.0 * i, 2.0 * i);
    PassMeasurement p = Made.only(t.track(), hilly, MeasureOptions.NONE);
    assertThat(p.distances().horizontalReferenceM()).isCloseTo(300, within(1e-9));
    assertThat(p.ladder().slopeM()).isCloseTo(-10, within(1e-9));
    assertThat(p.errors().trackPercent().orElseThrow()).isCloseTo(0, within(1e-5));
    assertThat(p.errors().recordedPercent().orElseThrow()).isCloseTo(-1000 / 310.0, within(1e-5));
  }

  @Test
  void heightAboveTheEllipsoidLengthensTheTrackToTheGround() {
    // Reference values, section 1.4: at 40 degrees and 1600 m a kilometre is 1000.2515 m.
    var from = new milewarden.geodesy.Position(40, -30);
    var to = milewarden.geodesy.Geodesics.direct(from, 0, 1000);
    ReferenceCourse low =
        milewarden.simulator.InventedCourse.of("high", "high", false, List.of(from, to));
    ReferenceCourse high =
        new ReferenceCourse(
            low.slug(),
            low.version(),
            low.name(),
            false,
            low.line(),
            List.of(),
            1000.2515,
            0.1,
            Optional.empty(),
            "",
            low.method(),
            low.safetyFactor(),
            java.util.OptionalDouble.of(1600),
            List.of(),
            low.corridorM(),
            "",
            low.skyView(),
            "",
            low.otherProperties());
    Track t = track(Walk.of(high), Receiver.PERFECT, 1);
    PassMeasurement p = Made.only(t, high, MeasureOptions.NONE);
    // Half of the last digit of the published factor, and the positions' ninth decimal.
    assertThat(p.distances().trackM()).isCloseTo(1000.2515, within(0.001));
  }

  @Test
  void aDisplayIsAnIntervalByItsRule() {
    assertThat(range(5.01, Rounding.ROUNDED).lowM()).isCloseTo(5005, within(1e-9));
    assertThat(range(5.01, Rounding.ROUNDED).highM()).isCloseTo(5015, within(1e-9));
    assertThat(range(5.01, Rounding.TRUNCATED).lowM()).isCloseTo(5010, within(1e-9));
    assertThat(range(5.01, Rounding.TRUNCATED).highM()).isCloseTo(5020, within(1e-9));
    assertThat(range(5.01, Rounding.UNKNOWN).lowM()).isCloseTo(5005, within(1e-9));
    assertThat(range(5.01, Rounding.UNKNOWN).highM()).isCloseTo(5020, within(1e-9));
    assertThat(range(0, Rounding.ROUNDED).lowM()).isZero();
  }

  private static milewarden.units.LengthRange range(double km, Rounding rule) {
    return ShownDistance.of(new Reading(km, LengthUnit.KILOMETRE, 0.01, rule)).range();
  }

  @Test
  void aQuarterMileCourseAndItsReadings() {
    // Common practice, no source: 0.25 mi is 1,320 ft; 0.27 mi read there is 105.6 ft long, 0.28 mi
    // 158.4 ft; together 10 % and 528 ft in a mile; 0.49 mi for 0.50 mi is -2 %.
    ReferenceCourse course =
        Made.measured(Made.open(new double[] {0, 0}, new double[] {0, 402}), 0.25 * 1609.344);
    assertThat(course.referenceM() / 0.3048).isCloseTo(1320, within(1e-9));
    Reading first = new Reading(0.27, LengthUnit.MILE, 0.01, Rounding.UNKNOWN);
    Reading second = new Reading(0.28, LengthUnit.MILE, 0.01, Rounding.UNKNOWN);
    double feet = 0;
    for (Reading r : List.of(first, second)) {
      ShownRun run = ShownRun.measure(course, 1, r);
      feet += (run.shown().asReadM() - run.referenceM()) / 0.3048;
    }
    assertThat((ShownDistance.of(first).asReadM() - course.referenceM()) / 0.3048)
        .isCloseTo(105.6, within(1e-6));
    assertThat(feet).isCloseTo(105.6 + 158.4, within(1e-6));
    assertThat(ShownRun.measure(course, 1, first).errors().shownAsReadPercent().orElseThrow())
        .isCloseTo(8, within(1e-9));
    ShownRun two =
        ShownRun.measure(course, 2, new Reading(0.49, LengthUnit.MILE, 0.01, Rounding.UNKNOWN));
    assertThat(two.errors().shownAsReadPercent().orElseThrow()).isCloseTo(-2, within(1e-9));
    // 0.24 may be about to turn to 0.25: -4 % as read, up to 0 %; a step is 4 % of the course.
    ShownRun turning =
        ShownRun.measure(course, 1, new Reading(0.24, LengthUnit.MILE, 0.01, Rounding.UNKNOWN));
    assertThat(turning.errors().shownPercent().orElseThrow().low()).isCloseTo(-6, within(1e-9));
    assertThat(turning.errors().shownPercent().orElseThrow().high()).isCloseTo(0, within(1e-9));
    assertThat(turning.shown().stepPercent(course.referenceM())).isCloseTo(4, within(1e-9));
  }

  @Test
  void aDisplayTooCoarseForTheCourseSaysHowManyLapsWouldDo() {
    ReferenceCourse course = Made.measured(Shapes.oval(), 400.9);
    Track t = track(Walk.of(course), NOISY, 6);
    TrackMeasurement m =
        Measurer.measure(
            t,
            course,
            MeasureOptions.NONE.withShown(
                new Reading(0.25, LengthUnit.MILE, 0.01, Rounding.UNKNOWN)));
    // 16.09 m is half a percent (a quarter of 2 %) of 3,218.7 m: 9 laps of 400.9 m, 8 are too few.
    assertThat(m.findings())
        .anySatisfy(
            f -> {
              assertThat(f.code()).isEqualTo(Code.DISPLAY_TOO_COARSE);
              assertThat(f.detail()).contains("3219 m").contains("9 laps");
              assertThat(f.detail()).contains("the recorded distance decides");
            });
  }

  @Test
  void readingsThatDoNotMatchThePassesAreSaidAndNotGuessed() {
    ReferenceCourse course = Shapes.oval();
    Track t = track(Walk.of(course).withLaps(3).withGates(60), NOISY, 7);
    TrackMeasurement m =
        Measurer.measure(
            t,
            course,
            MeasureOptions.NONE.withShown(
                new Reading(0.4, LengthUnit.KILOMETRE, 0.01, Rounding.UNKNOWN)));
    assertThat(codes(m)).contains(Code.SHOWN_COUNT_MISMATCH);
    m.passes().forEach(p -> assertThat(p.errors().shownPercent()).isEmpty());
  }

  @Test
  void aTrackElsewhereIsOnNoCourseAndKeepsItsLength() {
    ReferenceCourse course = Shapes.oval();
    Made t = new Made();
    for (int i = 0; i < 100; i++) t.fix(i, 0, 2.0 * i);
    TrackMeasurement m = Measurer.measure(t.track(), course, MeasureOptions.NONE);
    assertThat(m.passes()).isEmpty();
    assertThat(codes(m)).contains(Code.NO_COURSE);
    assertThat(m.trackLengthM()).isCloseTo(198, within(1e-3));
  }

  @Test
  void aStretchOffTheLineMarksThePassAndStaysInItsDistance() {
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 800});
    Made t = new Made();
    for (int i = 0; i <= 400; i++) t.fix(i, i >= 200 && i < 230 ? 45 : 0, 2.0 * i);
    TrackMeasurement m = Measurer.measure(t.track(), course, MeasureOptions.NONE);
    PassMeasurement p = m.passes().get(0);
    assertThat(p.onCourse()).isFalse();
    assertThat(codes(m)).contains(Code.OFF_LINE);
    assertThat(p.offLine()).hasSize(1);
    assertThat(p.offLine().get(0).fromM()).isCloseTo(400, within(0.01));
    assertThat(p.offLine().get(0).largestOffsetM()).isCloseTo(45, within(0.01));
    assertThat(p.distances().trackM()).isCloseTo(m.trackLengthM(), within(1e-9));
  }

  @Test
  void coarsePositionsAtASecondCannotCountAsALength() {
    // Round a track, so in every direction: on a straight line it is a matter of its direction.
    ReferenceCourse course = Shapes.oval();
    Walk walk = Walk.of(course).withLaps(3);
    TrackMeasurement coarse =
        Measurer.measure(
            track(walk, Receiver.PERFECT.withDecimals(5), 1), course, MeasureOptions.NONE);
    assertThat(coarse.recording().positionStepDeg().orElseThrow()).isCloseTo(1e-5, within(1e-12));
    assertThat(coarse.passes().get(0).trackResolvable()).isFalse();
    assertThat(codes(coarse)).contains(Code.COARSE_POSITIONS);
    // How much depends on latitude and speed; above the tightest limit of 0.5 % in any case.
    assertThat(coarse.passes().get(0).errors().trackPercent().orElseThrow()).isGreaterThan(0.5);
    TrackMeasurement fine =
        Measurer.measure(
            track(walk, Receiver.PERFECT.withDecimals(7), 1), course, MeasureOptions.NONE);
    assertThat(fine.passes().get(0).trackResolvable()).isTrue();
    assertThat(fine.recording().positionStepDeg()).isEmpty();
  }

  @Test
  void whatIsWrongWithTheTimesIsCountedAndNothingIsLost() {
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 200});
    Made t = new Made();
    for (int i = 0; i <= 100; i++) {
      double second = i == 40 ? 39 : i == 60 ? 20 : i;
      t.fix(second, 0, 2.0 * i);
    }
    TrackMeasurement m = Measurer.measure(t.track(), course, MeasureOptions.NONE);
    assertThat(m.recording().duplicateTimes()).isEqualTo(1);
    assertThat(m.recording().backwardTimes()).isEqualTo(1);
    assertThat(m.recording().repairs())
        .contains(
            new RecordingQuality.Repair("duplicate-time", 1),
            new RecordingQuality.Repair("backward-time", 1));
    assertThat(m.trackLengthM()).isCloseTo(200, within(1e-4));
    assertThat(m.recording().medianIntervalS().orElseThrow()).isEqualTo(1);
  }

  @Test
  void aSpikeIsCountedAndStaysInTheLength() {
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 400});
    Made t = new Made();
    for (int i = 0; i <= 200; i++) t.fix(i, i == 77 ? 60 : 0, 2.0 * i);
    TrackMeasurement m = Measurer.measure(t.track(), course, MeasureOptions.NONE);
    assertThat(m.recording().spikes()).isEqualTo(1);
    PassMeasurement p = m.passes().get(0);
    double out = 2 * Math.hypot(60, 2) - 4;
    assertThat(p.distances().trackM()).isCloseTo(400 + out, within(1e-3));
    assertThat(p.onCourse()).isTrue();
    assertThat(
            p.excessByKind().stream()
                .filter(k -> k.kind() == StepKind.SPIKE)
                .mapToDouble(k -> k.excessM())
                .sum())
        .isCloseTo(out, within(1e-3));
  }

  @Test
  void withoutTimesDistancesStandAndSpeedsAreSaidToBeMissing() {
    ReferenceCourse course = Shapes.hairpin();
    Track t = Shapes.withoutTimes(track(Walk.of(course), NOISY, 8));
    TrackMeasurement m = Measurer.measure(t, course, MeasureOptions.NONE);
    assertThat(codes(m)).contains(Code.NO_TIMES);
    PassMeasurement p = m.passes().get(0);
    assertThat(p.startedAt()).isEmpty();
    assertThat(p.durationS()).isEmpty();
    assertThat(p.offset().correlationTimeS()).isEmpty();
    assertThat(m.recording().medianIntervalS()).isEmpty();
  }

  @Test
  void theSameRunMeasuresAlikeAnywhereOnTheEarth() {
    double[] first = new double[0];
    for (double lat : new double[] {0, 45, -62, 75})
      for (double lon : new double[] {20, 179.9999}) {
        var origin = new milewarden.geodesy.Position(lat, lon);
        java.util.SplittableRandom random = new java.util.SplittableRandom(3);
        List<double[]> plan = new java.util.ArrayList<>();
        for (int i = 0; i <= 60; i++) {
          double a = Math.PI * i / 60;
          plan.add(new double[] {200 * Math.sin(a), -200 * Math.cos(a)});
        }
        ReferenceCourse course =
            milewarden.simulator.InventedCourse.of(
                "moved", "moved", false, milewarden.simulator.InventedCourse.laidOut(origin, plan));
        List<double[]> fixes = new java.util.ArrayList<>();
        for (int i = 0; i <= 397; i++) {
          double a = Math.PI * i / 397;
          double r = 200 + 2 * random.nextGaussian();
          fixes.add(new double[] {r * Math.sin(a), -r * Math.cos(a)});
        }
        var at = milewarden.simulator.InventedCourse.laidOut(origin, fixes);
        Track t =
            new Track(
                "made",
                at.stream().mapToDouble(q -> q.latitudeDeg()).toArray(),
                at.stream().mapToDouble(q -> q.longitudeDeg()).toArray(),
                new double[0],
                java.util.stream.LongStream.range(0, at.size()).map(i -> i * 1000).toArray(),
                new double[0],
                new double[0],
                new int[] {0},
                milewarden.track.DeviceClaim.NONE,
                java.util.OptionalDouble.empty());
        PassMeasurement p = Made.only(t, course, MeasureOptions.NONE);
        double[] here = {
          p.distances().trackM(),
          p.ladder().weaveM(),
          p.ladder().backtrackM(),
          p.ladder().bendM(),
          p.ladder().chordM(),
          p.offset().meanM()
        };
        if (first.length == 0) first = here;
        for (int i = 0; i < here.length; i++)
          // Azimuthal layout shrinks circles around the origin by (r/R)^2 / 6: 0.1 mm at 200 m.
          assertThat(here[i]).as("figure %d at %s", i, origin).isCloseTo(first[i], within(0.002));
      }
  }

  @Test
  void splittingAnEdgeOfTheLineChangesNothing() {
    double[][] corners = {{0, 0}, {0, 300}, {250, 400}, {500, 100}};
    ReferenceCourse coarse = Made.open(corners);
    List<milewarden.geodesy.Position> fine = new java.util.ArrayList<>();
    var line = coarse.line().positions();
    for (int i = 1; i < line.size(); i++) {
      double azimuth = milewarden.geodesy.Geodesics.azimuthDeg(line.get(i - 1), line.get(i));
      double length =
          milewarden.geodesy.Geodesics.lengthM(
              line.get(i - 1).latitudeDeg(),
              line.get(i - 1).longitudeDeg(),
              line.get(i).latitudeDeg(),
              line.get(i).longitudeDeg());
      for (int part = 0; part < 40; part++)
        fine.add(milewarden.geodesy.Geodesics.direct(line.get(i - 1), azimuth, length * part / 40));
    }
    fine.add(line.get(line.size() - 1));
    ReferenceCourse split = milewarden.simulator.InventedCourse.of("split", "split", false, fine);
    Track t = track(Walk.of(coarse).withVariation(0.1, 0.5), NOISY, 9);
    PassMeasurement a = Made.only(t, coarse, MeasureOptions.NONE);
    PassMeasurement b = Made.only(t, split, MeasureOptions.NONE);
    // A straight line of the plane is no geodesic: they part by 0.1 mm in 500 m.
    assertThat(b.ladder().weaveM()).isCloseTo(a.ladder().weaveM(), within(0.01));
    assertThat(b.ladder().backtrackM()).isCloseTo(a.ladder().backtrackM(), within(0.01));
    assertThat(b.ladder().bendM()).isCloseTo(a.ladder().bendM(), within(0.01));
    assertThat(b.ladder().endsM()).isCloseTo(a.ladder().endsM(), within(0.01));
  }

  @Test
  void noNumberOfAnyPassIsNotANumber() {
    for (long seed = 1; seed <= 40; seed++) {
      ReferenceCourse course = seed % 2 == 0 ? Shapes.oval() : Shapes.hairpin();
      Receiver receiver =
          NOISY.withGaps(List.of(new Receiver.Gap(50, 30, seed % 3 == 0))).withAutoPause();
      Track t =
          Shapes.withOutliers(
              track(Walk.of(course).withLaps(2).withStanding(20), receiver, seed), 9, seed);
      double[] lat = t.latitudesDeg().clone();
      double[] lon = t.longitudesDeg().clone();
      // A fix at the other end of the world, as devices write one now and then.
      lat[lat.length / 3] = 0;
      lon[lon.length / 3] = 0;
      TrackMeasurement m =
          Measurer.measure(Shapes.with(t, lat, lon, t.timesMs()), course, MeasureOptions.NONE);
      for (PassMeasurement p : m.passes()) {
        String text =
            p.distances().toString()
                + p.errors()
                + p.ladder()
                + p.offset()
                + p.predictedInflationM()
                + p.excessPer10m()
                + p.excessByKind()
                + p.profile().chainageM()
                + p.profile().offsetM();
        assertThat(text).as("seed %d", seed).doesNotContain("NaN").doesNotContain("Infinity");
      }
    }
  }

  @Test
  void lapsAreCountedAndANumberThatDiffersIsSaidAndNotBelieved() {
    ReferenceCourse course = Shapes.oval();
    Track t = track(Walk.of(course).withLaps(3), NOISY, 10);
    for (int label : new int[] {2, 4, 30}) {
      MeasureOptions said =
          new MeasureOptions(
              Optional.of(Bounds.MARKS),
              OptionalInt.of(label),
              Optional.empty(),
              List.of(),
              Gait.RUN);
      TrackMeasurement m = Measurer.measure(t, course, said);
      assertThat(m.passes().get(0).laps()).isEqualTo(3);
      assertThat(m.passes().get(0).distances().referenceM())
          .isCloseTo(3 * course.referenceM(), within(1e-9));
      assertThat(m.findings())
          .anySatisfy(
              f -> {
                assertThat(f.code()).isEqualTo(Code.LAPS_UNSURE);
                assertThat(f.detail()).contains("show 3");
              });
    }
    MeasureOptions right =
        new MeasureOptions(
            Optional.of(Bounds.MARKS), OptionalInt.of(3), Optional.empty(), List.of(), Gait.RUN);
    assertThat(codes(Measurer.measure(t, course, right))).doesNotContain(Code.LAPS_UNSURE);
  }
}
