package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
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
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** The ladder against closed forms (ENGINE section 6) and its identity on whatever comes. */
final class LadderTest {
  private static final MeasureOptions MARKS = MeasureOptions.NONE.withBounds(Bounds.MARKS);

  // Sums of 10,000 terms of 10 km in double precision stay far below this.
  private static final double IDENTITY_M = 1e-6;

  static void addsUp(PassMeasurement p) {
    Ladder l = p.ladder();
    Distances d = p.distances();
    String pass = p.toString().substring(0, 80);
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
  void theStepsAddUpOnRandomTracks() {
    Reading reading = new Reading(0.81, LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED);
    int passes = 0;
    for (long seed = 1; seed <= 60; seed++) {
      SplittableRandom r = new SplittableRandom(seed);
      ReferenceCourse drawn =
          r.nextBoolean()
              ? Shapes.oval(60 + r.nextInt(200), 30 + r.nextInt(50), 3)
              : Made.open(
                  new double[] {0, 0},
                  new double[] {r.nextInt(100), 300},
                  new double[] {200, 500 + r.nextInt(100)},
                  new double[] {400, r.nextInt(300)});
      ReferenceCourse course =
          Made.measured(drawn, drawn.measuredLengthM() * r.nextDouble(0.997, 1.003));
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
      TrackMeasurement m =
          Measurer.measure(
              TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track(),
              course,
              MeasureOptions.NONE);
      Reading[] readings = new Reading[m.passes().size()];
      java.util.Arrays.fill(readings, reading);
      m =
          Measurer.measure(
              TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track(),
              course,
              MeasureOptions.NONE.withShown(readings));
      assertThat(m.passes()).as("seed %d: %s %s", seed, walk, m.findings()).isNotEmpty();
      m.passes().forEach(LadderTest::addsUp);
      passes += m.passes().size();
    }
    assertThat(passes).isGreaterThan(80);
  }

  @Test
  void aConstantOffsetInsideAFullCircleIsTwoPiTimesTheOffset() {
    // Closed form: 2 pi (R - r) - 2 pi R.
    for (double inside : new double[] {0.35, 2, -1}) {
      Made t = new Made();
      int n = 720;
      for (int i = 0; i <= n; i++) {
        double a = 2 * Math.PI * i / n;
        t.fix(i, (60 - inside) * Math.sin(a), (60 - inside) * Math.cos(a));
      }
      PassMeasurement p = Made.only(t.track(), Made.circle(60), MARKS);
      // Clockwise: inside is right. The rest is of second order in the polygons' edges.
      assertThat(p.offset().meanM()).isCloseTo(inside, within(0.001));
      assertThat(p.ladder().bendM()).isCloseTo(-2 * Math.PI * inside, within(0.01));
      assertThat(p.ladder().endsM()).isCloseTo(0, within(0.001));
      assertThat(p.ladder().chordM()).isCloseTo(0, within(0.02));
      addsUp(p);
    }
  }

  @Test
  void straightStepsAcrossACircleFallShortByTheChordDeficit() {
    for (double k : new double[] {1, 1.002})
      for (int standing : new int[] {0, 120}) {
        double radius = 60;
        double d = 5;
        int n = (int) Math.round(2 * Math.PI * radius / d);
        Made t = new Made();
        double second = 0;
        for (int i = 0; i <= n; i++) {
          double a = 2 * Math.PI * i / n;
          t.fix(second++, radius * Math.sin(a), radius * Math.cos(a));
          if (i == n / 2)
            for (int s = 0; s < standing; s++)
              t.fix(second++, radius * Math.sin(a), radius * Math.cos(a));
        }
        ReferenceCourse drawn = Made.circle(radius);
        ReferenceCourse course = Made.measured(drawn, drawn.measuredLengthM() * k);
        PassMeasurement p = Made.only(t.track(), course, MARKS);
        double step = 2 * Math.PI * radius / n;
        double deficit = -step * step / (24 * radius * radius) * 2 * Math.PI * radius;
        assertThat(p.ladder().chordM())
            .as("k %s, %d s standing", k, standing)
            // Next term of the series and the course's own polygon: below 1 % of the deficit.
            .isCloseTo(deficit, within(Math.abs(deficit) * 0.01));
        assertThat(p.ladder().lineM()).isCloseTo((1 - k) * 2 * Math.PI * radius, within(0.001));
        assertThat(p.ladder().backtrackM() + p.ladder().weaveM()).isCloseTo(0, within(0.001));
        addsUp(p);
      }
  }

  @Test
  void aSquareCornerCutStraightAcrossLosesItsTriangle() {
    // Closed form: (2 - sqrt 2) = 0.586 of the cut length.
    double cut = 10;
    Made t = new Made();
    double second = 0;
    for (int i = 0; i <= 190; i++) t.fix(second++, 0, i);
    for (int i = 1; i <= 20; i++) t.fix(second++, cut * i / 20, 190 + cut * i / 20);
    for (int i = 1; i <= 190; i++) t.fix(second++, cut + i, 200);
    ReferenceCourse course =
        Made.open(new double[] {0, 0}, new double[] {0, 200}, new double[] {200, 200});
    PassMeasurement p = Made.only(t.track(), course, MARKS);
    assertThat(p.distances().trackM() - p.distances().horizontalReferenceM())
        .isCloseTo(-(2 - Math.sqrt(2)) * cut, within(0.01));
    addsUp(p);
  }

  @Test
  void whiteNoiseOnAStraightLineLengthensItByTheRiceMean() {
    // Rice mean, s^2 = 2 sigma^2: REFERENCE rows of noise/oed_rice_cases.csv are checked in
    // RiceTest.
    double sigma = 1.5;
    double v = 3;
    int n = 3000;
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, n * v});
    SplittableRandom random = new SplittableRandom(5);
    Made t = new Made();
    for (int i = 0; i <= n; i++)
      t.fix(i, sigma * random.nextGaussian(), v * i + sigma * random.nextGaussian());
    PassMeasurement p = Made.only(t.track(), course, MARKS);
    double expected = n * Rice.excessM(v, sigma * Math.sqrt(2));
    double found = p.ladder().backtrackM() + p.ladder().weaveM();
    // The excess of a step scatters by about its own size; neighbours share a fix: sqrt(2 n) of it.
    double scatter = 3 * Math.sqrt(2.0 * n) * Rice.excessM(v, sigma * Math.sqrt(2));
    assertThat(found).isCloseTo(expected, within(scatter));
    assertThat(p.ladder().bendM()).isCloseTo(0, within(1e-9));
    assertThat(p.ladder().chordM()).isCloseTo(0, within(0.01));
    assertThat(p.offset().robustSigmaM()).isCloseTo(sigma, within(0.1));
    assertThat(p.predictedInflationM()).isCloseTo(expected, within(0.1 * expected));
    assertThat(p.noise().plainNoise()).isTrue();
    addsUp(p);
  }

  @Test
  void twoMinutesOfStandingAreWanderAndNeverRest() {
    SplittableRandom random = new SplittableRandom(7);
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 600});
    Made t = new Made();
    double second = 0;
    double stood = 0;
    double before = Double.NaN;
    double beforeN = Double.NaN;
    for (int i = 0; i <= 400; i++) {
      t.fix(second++, 0, 1.5 * i);
      if (i != 200) continue;
      before = 300;
      beforeN = 0;
      for (int s = 0; s < 120; s++) {
        double e = random.nextGaussian();
        double n = 300 + random.nextGaussian();
        stood += Math.hypot(n - before, e - beforeN);
        t.fix(second++, e, n);
        before = n;
        beforeN = e;
      }
    }
    stood += Math.hypot(301.5 - before, beforeN) - 1.5;
    PassMeasurement p = Made.only(t.track(), course, MARKS);
    assertThat(p.ladder().backtrackM() + p.ladder().weaveM()).isCloseTo(stood, within(0.01));
    assertThat(p.ladder().chordM()).isCloseTo(0, within(0.01));
    double standing =
        p.excessByKind().stream()
            .filter(k -> k.kind() == StepKind.STANDING)
            .mapToDouble(k -> k.excessM())
            .sum();
    // The smoothed speed sees the last and first seconds as walking.
    assertThat(standing).isGreaterThan(0.85 * stood);
    addsUp(p);
  }

  @Test
  void reverseTravelMirrorsTheOffsetAndKeepsEveryStep() {
    ReferenceCourse course = Made.circle(80);
    Made forward = new Made();
    Made reverse = new Made();
    int n = 240;
    for (int i = 0; i <= n; i++) {
      double a = 2 * Math.PI * i / n;
      double r = 80 + 3 * Math.sin(5 * a);
      forward.fix(i, r * Math.sin(a), r * Math.cos(a));
      reverse.fix(i, -r * Math.sin(a), r * Math.cos(a));
    }
    PassMeasurement f = Made.only(forward.track(), course, MARKS);
    PassMeasurement b = Made.only(reverse.track(), course, MARKS);
    assertThat(f.direction()).isEqualTo(Direction.FORWARD);
    assertThat(b.direction()).isEqualTo(Direction.REVERSE);
    // A mirror image of a circle is the circle: offsets change sides with the direction.
    assertThat(b.offset().meanM()).isCloseTo(-f.offset().meanM(), within(1e-4));
    assertThat(b.ladder().bendM()).isCloseTo(f.ladder().bendM(), within(0.02));
    assertThat(b.ladder().weaveM()).isCloseTo(f.ladder().weaveM(), within(0.02));
    assertThat(b.distances().trackM()).isCloseTo(f.distances().trackM(), within(0.001));
  }
}
