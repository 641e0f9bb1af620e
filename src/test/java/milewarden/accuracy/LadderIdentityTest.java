package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.matching.Shapes;
import milewarden.simulator.Odometer;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** The steps of the ladder add up exactly, whatever was recorded on whatever course. */
final class LadderIdentityTest {
  // Sums of 10,000 terms of 10 km in double precision stay far below this.
  private static final double IDENTITY_M = 1e-6;

  static void addsUp(PassMeasurement p) {
    Ladder l = p.ladder();
    Distances d = p.distances();
    String pass = p.index() + " " + p.direction() + " " + d;
    assertThat(Made.sum(l))
        .as(pass)
        .isCloseTo(d.trackM() - d.horizontalReferenceM(), within(IDENTITY_M));
    double toTrack = l.slopeM() + Made.sum(l);
    assertThat(toTrack).isCloseTo(d.trackM() - d.referenceM(), within(IDENTITY_M));
    double below = toTrack;
    if (d.recordedM().isPresent()) {
      below += l.sourceM().orElseThrow();
      assertThat(below).isCloseTo(d.recordedM().getAsDouble() - d.referenceM(), within(IDENTITY_M));
    } else {
      assertThat(l.sourceM()).isEmpty();
    }
    if (d.shownM().isPresent()) {
      assertThat(below + l.indicationM().orElseThrow().lowM())
          .isCloseTo(d.shownM().get().lowM() - d.referenceM(), within(IDENTITY_M));
      assertThat(below + l.indicationM().orElseThrow().highM())
          .isCloseTo(d.shownM().get().highM() - d.referenceM(), within(IDENTITY_M));
    }
    assertThat(l.backtrackM()).isNotNegative();
    assertThat(l.weaveM()).isGreaterThanOrEqualTo(-IDENTITY_M);
    double excess = p.excessByKind().stream().mapToDouble(k -> k.excessM()).sum();
    double places = p.excessPer10m().stream().mapToDouble(x -> x).sum();
    assertThat(places).as("excess by place and by kind").isCloseTo(excess, within(IDENTITY_M));
    assertThat(excess)
        .as("excess is all but ends and line")
        .isCloseTo(l.backtrackM() + l.weaveM() + l.bendM() + l.chordM(), within(IDENTITY_M));
  }

  @Test
  void theStepsAddUpOnRandomTracksOfEveryKind() {
    Set<Bounds> bounds = EnumSet.noneOf(Bounds.class);
    Set<Direction> directions = EnumSet.noneOf(Direction.class);
    Set<StepKind> kinds = EnumSet.noneOf(StepKind.class);
    int[] counts = new int[5];
    for (long seed = 1; seed <= 80; seed++) {
      SplittableRandom r = new SplittableRandom(seed);
      ReferenceCourse course = course(r);
      Track track = track(course, r, seed);
      TrackMeasurement found = Measurer.measure(track, course, MeasureOptions.NONE);
      Reading[] readings = new Reading[found.passes().size()];
      Arrays.fill(readings, reading(r));
      found = Measurer.measure(track, course, MeasureOptions.NONE.withShown(readings));
      assertThat(found.passes()).as("seed %d: %s", seed, found.findings()).isNotEmpty();
      for (PassMeasurement p : found.passes()) {
        addsUp(p);
        bounds.add(p.bounds());
        directions.add(p.direction());
        for (PassMeasurement.KindExcess k : p.excessByKind())
          if (k.steps() > 0) kinds.add(k.kind());
        if (p.laps() > 1) counts[0]++;
        if (p.ladder().slopeM() < 0) counts[1]++;
        if (p.distances().recordedM().isPresent()) counts[2]++;
        if (track.segments() > 1) counts[3]++;
        counts[4]++;
      }
    }
    // The seeds did reach what the property is about.
    assertThat(bounds).containsExactlyInAnyOrder(Bounds.values());
    assertThat(directions).containsExactlyInAnyOrder(Direction.values());
    assertThat(kinds).containsExactlyInAnyOrder(StepKind.values());
    assertThat(counts[0]).as("passes of several laps").isGreaterThan(10);
    assertThat(counts[1]).as("on a slope").isGreaterThan(30);
    assertThat(counts[2]).as("with the device's own distance").isGreaterThan(30);
    assertThat(counts[3]).as("with pauses").isGreaterThan(10);
    assertThat(counts[4]).isGreaterThan(110);
  }

  private static ReferenceCourse course(SplittableRandom r) {
    ReferenceCourse drawn =
        switch (r.nextInt(4)) {
          case 0 -> Shapes.oval(60 + r.nextInt(200), 30 + r.nextInt(50), 3);
          case 1 -> Shapes.hairpin();
          case 2 -> Shapes.figureEight();
          default ->
              Made.open(
                  new double[] {0, 0},
                  new double[] {r.nextInt(100), 300},
                  new double[] {200, 500 + r.nextInt(100)},
                  new double[] {400, r.nextInt(300)});
        };
    double length = drawn.measuredLengthM() * r.nextDouble(0.997, 1.003);
    ReferenceCourse measured = Made.measured(drawn, length);
    if (r.nextInt(3) == 0) return measured;
    // On a hill: a certified length with its safety factor, a height and a profile up and down.
    double top = r.nextDouble(2, 12);
    return Made.hilly(
        measured,
        r.nextBoolean() ? 1.001 : 1,
        r.nextDouble(-50, 2500),
        new double[] {0, 0},
        new double[] {length / 2, top},
        new double[] {length, 0});
  }

  private static Track track(ReferenceCourse course, SplittableRandom r, long seed) {
    Walk walk =
        Walk.of(course)
            .withLaps(1 + r.nextInt(3))
            .withDirection(r.nextBoolean() ? Direction.FORWARD : Direction.REVERSE)
            .withGait(Gait.RUN, r.nextDouble(1, 5))
            .withVariation(0.1, 0.5)
            .withStanding(r.nextInt(40));
    if (r.nextBoolean()) walk = walk.withGates(60 + r.nextInt(60));
    Receiver receiver =
        Receiver.PERFECT
            .withNoise(r.nextDouble(0, 6), 20, r.nextDouble(0, 2))
            .withInterval(1 + r.nextInt(4))
            .withSmoothing(r.nextInt(4))
            .withGaps(List.of(new Receiver.Gap(60, r.nextInt(40), r.nextBoolean())))
            .withOdometer(
                new Odometer(Odometer.Source.values()[r.nextInt(3)], r.nextDouble(0.9, 1.1)));
    Track track = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track();
    return r.nextInt(4) == 0 ? Shapes.withOutliers(track, 90, seed) : track;
  }

  private static Reading reading(SplittableRandom r) {
    Rounding rule = Rounding.values()[r.nextInt(3)];
    return r.nextBoolean()
        ? new Reading(0.81, LengthUnit.KILOMETRE, 0.01, rule)
        : new Reading(0.5, LengthUnit.MILE, 0.1, rule);
  }
}
