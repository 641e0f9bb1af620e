package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import milewarden.accuracy.noise.Rice;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import org.junit.jupiter.api.Test;

/** The ladder against closed forms. */
final class LadderTest {
  private static final MeasureOptions MARKS = MeasureOptions.NONE.withBounds(Bounds.MARKS);

  private static void addsUp(PassMeasurement p) {
    LadderIdentityTest.addsUp(p);
  }

  private static double excess(PassMeasurement p, StepKind kind) {
    return p.excessByKind().stream()
        .filter(k -> k.kind() == kind)
        .mapToDouble(PassMeasurement.KindExcess::excessM)
        .sum();
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
    // All of it lies within the cut: 190 m to 210 m of chainage are two bins.
    double there = p.excessPer10m().get(19) + p.excessPer10m().get(20);
    assertThat(there).isCloseTo(-(2 - Math.sqrt(2)) * cut, within(0.01));
    assertThat(p.ladder().endsM()).isCloseTo(0, within(0.001));
    addsUp(p);
  }

  @Test
  void aSinusoidAboutAStraightLineIsWeaveOfItsArcLength() {
    // Arc length of n = A sin(2 pi s / w): the mean of sqrt(1 + a^2 cos^2), a = 2 pi A / w, is
    // (2 / pi) sqrt(1 + a^2) E(m) with m = a^2 / (1 + a^2): Abramowitz and Stegun (1964), 17.3.3.
    for (double amplitude : new double[] {1, 4}) {
      double wave = 60;
      double length = 1200;
      double step = 0.5;
      Made t = new Made();
      int n = (int) Math.round(length / step);
      for (int i = 0; i <= n; i++)
        t.fix(0.3 * i, amplitude * Math.sin(2 * Math.PI * step * i / wave), step * i);
      ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, length});
      PassMeasurement p = Made.only(t.track(), course, MARKS);
      double a = 2 * Math.PI * amplitude / wave;
      double factor = 2 / Math.PI * Math.sqrt(1 + a * a) * completeE(a * a / (1 + a * a));
      // Chords of the sinusoid: step^2 / 24 times the mean square curvature, below 1e-4 of the
      // length here; both sides are known to that.
      double chords = step * step / 24 * Math.pow(a * 2 * Math.PI / wave, 2) / 2 * length;
      assertThat(p.ladder().weaveM())
          .as("amplitude %s", amplitude)
          .isCloseTo(length * (factor - 1), within(chords + 0.001));
      assertThat(p.ladder().backtrackM()).isCloseTo(0, within(1e-4));
      assertThat(p.ladder().bendM()).isCloseTo(0, within(1e-9));
      assertThat(p.ladder().chordM()).isCloseTo(0, within(0.001));
      assertThat(excess(p, StepKind.STRAIGHT)).isCloseTo(p.ladder().weaveM(), within(0.001));
      addsUp(p);
    }
  }

  /** Complete elliptic integral of the second kind by the arithmetic-geometric mean, 17.6. */
  private static double completeE(double m) {
    double a = 1;
    double b = Math.sqrt(1 - m);
    double sum = m / 2;
    double weight = 0.5;
    for (int i = 0; i < 40; i++) {
      double c = (a - b) / 2;
      double next = (a + b) / 2;
      b = Math.sqrt(a * b);
      a = next;
      weight *= 2;
      sum += weight * c * c;
    }
    return Math.PI / (2 * a) * (1 - sum);
  }

  @Test
  void theEllipticIntegralIsThatOfTheTable() {
    // Abramowitz and Stegun (1964), table 17.1: E(0) = pi / 2, E(0.5) = 1.35064 38810 (memory).
    assertThat(completeE(0)).isCloseTo(Math.PI / 2, within(1e-15));
    assertThat(completeE(0.5)).isCloseTo(1.3506438810, within(1e-10));
  }

  @Test
  void aLineDrawnTooShortIsTheCoursesFaultAndSpoilsNoOtherStep() {
    // Algebra: H = 1.002 G and a track that follows the line exactly: line = (1 - k) G.
    for (double k : new double[] {0.998, 1.002}) {
      Made t = new Made();
      for (int i = 0; i <= 300; i++) t.fix(i, 0, 2.0 * i);
      ReferenceCourse course =
          Made.measured(Made.open(new double[] {0, 0}, new double[] {0, 600}), 600 * k);
      PassMeasurement p = Made.only(t.track(), course, MARKS);
      assertThat(p.ladder().lineM()).isCloseTo((1 - k) * 600, within(1e-4));
      assertThat(p.ladder().endsM()).isCloseTo(0, within(1e-4));
      assertThat(p.ladder().backtrackM() + p.ladder().weaveM()).isCloseTo(0, within(1e-4));
      assertThat(p.ladder().bendM() + p.ladder().chordM()).isCloseTo(0, within(1e-4));
      assertThat(p.errors().trackPercent().orElseThrow())
          .isCloseTo(100 * (1 / k - 1), within(1e-4));
      addsUp(p);
    }
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
    double standing = excess(p, StepKind.STANDING);
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
