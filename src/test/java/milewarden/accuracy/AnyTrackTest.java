package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.matching.CourseIndex;
import milewarden.matching.Shapes;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Tracks without sense: nothing fails, nothing is not a number, and the ladder adds up. */
final class AnyTrackTest {
  @Test
  void whateverADeviceWroteIsMeasuredOrSaidToBeNowhere() {
    List<ReferenceCourse> courses =
        List.of(Shapes.oval(), Shapes.figureEight(), Shapes.hairpin(), Shapes.straight(400));
    CourseIndex index = CourseIndex.of(courses);
    int passes = 0;
    for (long seed = 1; seed <= 2500; seed++) {
      Track track = any(new SplittableRandom(seed));
      assertThat(index.recognise(track)).as("seed %d", seed).isNotNull();
      for (ReferenceCourse course : courses)
        for (MeasureOptions options :
            List.of(
                MeasureOptions.NONE,
                MeasureOptions.NONE.withBounds(Bounds.MARKS),
                MeasureOptions.NONE.withBounds(Bounds.GATES)))
          for (PassMeasurement p : Measurer.measure(track, course, options).passes()) {
            LadderIdentityTest.addsUp(p);
            finite(p, seed);
            passes++;
          }
    }
    assertThat(passes).isGreaterThan(500);
  }

  private static void finite(PassMeasurement p, long seed) {
    String text =
        p.distances().toString()
            + p.errors()
            + p.ladder()
            + p.offset()
            + p.predictedInflationM()
            + p.gapShare()
            + p.excessPer10m()
            + p.excessByKind()
            + p.noise()
            + p.fingerprints()
            + p.profile().chainageM()
            + p.profile().offsetM();
    assertThat(text).as("seed %d", seed).doesNotContain("NaN").doesNotContain("Infinity");
  }

  /** Around the courses or around the world, with times that jump, stand, or are missing. */
  private static Track any(SplittableRandom r) {
    int n = 1 + r.nextInt(r.nextInt(5) == 0 ? 400 : 8);
    double[] lat = new double[n];
    double[] lon = new double[n];
    double[] distance = r.nextBoolean() ? new double[n] : new double[0];
    long[] time = new long[n];
    int mode = r.nextInt(5);
    double spread = mode == 1 ? 0 : mode == 2 ? 1e-4 : 2e-3;
    double counted = 0;
    long clock = 0;
    for (int i = 0; i < n; i++) {
      boolean anywhere = mode == 0;
      lat[i] = anywhere ? r.nextDouble(-90, 90) : 52.3 + r.nextGaussian() * spread + i * 1e-5;
      lon[i] = anywhere ? r.nextDouble(-180, 180) : -31.4 + r.nextGaussian() * spread;
      if (r.nextInt(20) == 0) lat[i] = r.nextBoolean() ? 90 : -90;
      clock += r.nextInt(3) == 0 ? r.nextInt(4000) - 1000 : 1000;
      time[i] = mode > 2 && r.nextInt(4) == 0 ? Track.NO_TIME : mode == 1 ? 0 : clock;
      if (distance.length == 0) continue;
      counted += r.nextDouble(5);
      distance[i] = r.nextInt(6) == 0 ? Double.NaN : r.nextInt(30) == 0 ? 0 : counted;
    }
    int[] segments = n > 3 && r.nextBoolean() ? new int[] {0, n / 2} : new int[] {0};
    return new Track(
        "made",
        lat,
        lon,
        new double[0],
        time,
        distance,
        new double[0],
        segments,
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }
}
