package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.SplittableRandom;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Climbs beyond a dead band, by algebra. */
final class AscentTest {
  @Test
  void withoutADeadBandItIsTheSumOfAllRises() {
    SplittableRandom random = new SplittableRandom(3);
    for (int round = 0; round < 50; round++) {
      double[] h = random.doubles(1 + random.nextInt(60), -20, 20).toArray();
      double rises = 0;
      for (int i = 1; i < h.length; i++) rises += Math.max(0, h[i] - h[i - 1]);
      assertThat(Ascent.climbedM(h, 0)).isCloseTo(rises, within(1e-9));
    }
  }

  @Test
  void whatStaysWithinTheBandIsNoClimb() {
    double[] saw = new double[1000];
    for (int i = 0; i < saw.length; i++) saw[i] = i % 2 == 0 ? 0 : 2.9;
    assertThat(Ascent.climbedM(saw, 3)).isZero();
    // The same saw on a slope of 100 m: the slope and one tooth.
    for (int i = 0; i < saw.length; i++) saw[i] += 0.1 * i;
    assertThat(Ascent.climbedM(saw, 3)).isCloseTo(99.9 + 2.9, within(1e-9));
  }

  @Test
  void aClimbCountsWholeFromItsFootToItsTop() {
    assertThat(Ascent.climbedM(new double[] {5, 0, 1, 2, 8, 6, 9, 1, 3, 4.5}, 3))
        .isCloseTo(9 + 3.5, within(1e-12));
    assertThat(Ascent.climbedM(new double[] {7}, 3)).isZero();
    assertThat(Ascent.climbedM(new double[] {9, 5, 1}, 3)).isZero();
  }

  @Test
  void climbAndDescentDifferByTheEndsButForTheBandAtEachEnd() {
    SplittableRandom random = new SplittableRandom(4);
    for (int round = 0; round < 200; round++) {
      double[] h = random.doubles(2 + random.nextInt(60), -20, 20).toArray();
      double[] back = new double[h.length];
      for (int i = 0; i < h.length; i++) back[i] = h[h.length - 1 - i];
      double up = Ascent.climbedM(h, 3);
      double down = Ascent.climbedM(back, 3);
      assertThat(up - down).isCloseTo(h[h.length - 1] - h[0], within(2 * 3.0 + 1e-9));
    }
  }

  private static Track hill(int n, double topM, double noiseM, boolean heights) {
    SplittableRandom random = new SplittableRandom(5);
    Made t = new Made();
    double[] h = new double[n + 1];
    for (int i = 0; i <= n; i++) {
      t.fix(i, 0, 2.0 * i);
      h[i] =
          i % 7 == 3
              ? Double.NaN
              : topM * Math.sin(Math.PI * i / n) + noiseM * (random.nextDouble() - 0.5);
    }
    Track flat = t.track();
    return new Track(
        flat.format(),
        flat.latitudesDeg(),
        flat.longitudesDeg(),
        heights ? h : new double[0],
        flat.timesMs(),
        flat.distancesM(),
        flat.speedsMps(),
        new int[] {0},
        flat.claim(),
        flat.claimedTotalM());
  }

  @Test
  void aPassOverAHillIsHeldAgainstTheCoursesProfile() {
    ReferenceCourse course =
        Made.hilly(
            Made.open(new double[] {0, 0}, new double[] {0, 400}),
            1,
            0,
            new double[] {0, 0},
            new double[] {200, 20},
            new double[] {400, 0});
    MeasureOptions marks = MeasureOptions.NONE.withBounds(Bounds.MARKS);
    Ascent a = Made.only(hill(200, 20, 1, true), course, marks).ascent().orElseThrow();
    assertThat(a.courseM().orElseThrow()).isCloseTo(20, within(1e-12));
    // Half a metre of noise at the foot and at the top.
    assertThat(a.trackM()).isCloseTo(20, within(1.0));
    assertThat(Made.only(hill(200, 20, 1, false), course, marks).ascent()).isEmpty();
    // A height enters no distance.
    assertThat(Made.only(hill(200, 20, 1, true), course, marks).distances())
        .isEqualTo(Made.only(hill(200, 20, 1, false), course, marks).distances());
    ReferenceCourse flat = Made.open(new double[] {0, 0}, new double[] {0, 400});
    Optional<Ascent> unknown = Made.only(hill(200, 20, 1, true), flat, marks).ascent();
    assertThat(unknown.orElseThrow().courseM()).isEmpty();
  }
}
