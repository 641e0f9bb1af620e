package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

final class CourseIndexTest {
  private static final Receiver NOISY = Receiver.PERFECT.withNoise(4, 20, 0.5);

  private static Track track(Walk walk, long seed) {
    return TrackSimulator.simulate(walk, NOISY, Sky.CLEAR, seed).track();
  }

  private static String said(CourseChoice choice) {
    return choice.fold(
        c -> c.course().slug().text(),
        a -> "ambiguous " + a.courses().stream().map(c -> c.slug().text()).sorted().toList(),
        n -> "none " + n.nearest().map(x -> x.slug().text()).orElse(""));
  }

  @Test
  void theCourseIsRecognisedFromPositionsAlone() {
    // All start at one place, so that only their shapes tell them apart.
    List<ReferenceCourse> all =
        List.of(
            Shapes.oval(),
            Shapes.figureEight(),
            Shapes.hairpin(),
            Shapes.twoLegs(),
            Shapes.straight(900));
    CourseIndex index = CourseIndex.of(all);
    for (ReferenceCourse course : List.of(all.get(0), all.get(1), all.get(2), all.get(4)))
      for (long seed = 1; seed <= 10; seed++)
        assertThat(said(index.recognise(track(Walk.of(course), seed))))
            .isEqualTo(course.slug().text());
  }

  @Test
  void aLongerCourseThatContainsAShorterOneExplainsMoreOfItsTrack() {
    ReferenceCourse whole = Shapes.straight(1500);
    ReferenceCourse part =
        Shapes.course(
            "part",
            false,
            new double[] {0, 0},
            new double[] {500 * Math.sin(Math.toRadians(37)), 500 * Math.cos(Math.toRadians(37))});
    CourseIndex index = CourseIndex.of(List.of(part, whole));
    assertThat(said(index.recognise(track(Walk.of(whole), 1)))).isEqualTo("straight");
    assertThat(said(index.recognise(track(Walk.of(part), 1)))).isEqualTo("part");
  }

  @Test
  void twoLanesOfOneTrackAreForTheTesterToTellApart() {
    ReferenceCourse lane2 = Shapes.oval(84.39, 37.92, 2);
    ReferenceCourse lane1 = Shapes.oval();
    CourseIndex index = CourseIndex.of(List.of(lane1, lane2));
    assertThat(said(index.recognise(track(Walk.of(lane1), 1)))).startsWith("ambiguous");
  }

  @Test
  void among500CoursesOverOneTownTheRightOneIsFound() {
    List<ReferenceCourse> all = ManyCourses.spread(500, 20_000, 77);
    CourseIndex index = CourseIndex.of(all);
    List<Long> seeds = MatchingCases.freshSeeds(60);
    for (int i = 0; i < seeds.size(); i++) {
      ReferenceCourse course = all.get(i * 8);
      Track t = track(Walk.of(course).withGait(Gait.RUN, 3), seeds.get(i));
      assertThat(said(index.recognise(t))).isEqualTo(course.slug().text());
    }
  }

  @Test
  void theNearestOf500IsTheNearestOfEachAlone() {
    List<ReferenceCourse> all = ManyCourses.spread(500, 20_000, 78);
    CourseIndex index = CourseIndex.of(all);
    for (int i = 0; i < 4; i++) {
      // Beyond the town's edge, and one of them far beyond it.
      ReferenceCourse off = ManyCourses.at(12_000 + 60_000.0 * (i / 3), 3_000.0 * i, 1000 + i);
      Track t = track(Walk.of(off).withGait(Gait.RUN, 3), i);
      String nearest = "";
      double least = Double.POSITIVE_INFINITY;
      for (ReferenceCourse course : all) {
        double d = CourseMatcher.of(course).medianDistanceM(t);
        if (d < least) nearest = course.slug().text();
        least = Math.min(least, d);
      }
      CourseChoice choice = index.recognise(t);
      assertThat(said(choice)).isEqualTo("none " + nearest);
      double away = choice.fold(c -> 0.0, a -> 0.0, n -> n.nearest().orElseThrow().distanceM());
      assertThat(away).isEqualTo(least);
    }
  }

  @Test
  void aCourseOverTheAntimeridianAndOneFarSouthAreFoundToo() {
    for (Position at : List.of(new Position(10, 179.999), new Position(-79, -179.9999))) {
      ReferenceCourse course = InventedCourse.straight("edge", at, 80, 900);
      CourseIndex index = CourseIndex.of(List.of(Shapes.oval(), course));
      // Laid out by geodesics: the simulator keeps off the antimeridian.
      double[] lat = new double[301];
      double[] lon = new double[301];
      long[] times = new long[301];
      for (int i = 0; i <= 300; i++) {
        Position p = Geodesics.direct(at, 80, 3.0 * i);
        lat[i] = p.latitudeDeg();
        lon[i] = p.longitudeDeg();
        times[i] = 1000L * i;
      }
      Track t = made(lat, lon, times);
      assertThat(said(index.recognise(t))).as("%s", at).isEqualTo("edge");
    }
  }

  @Test
  void aPerfectlySteadyRunnerIsFoundHoweverLongALapTakes() {
    // 20,000 fixes of a runner who passes the same places lap after lap: every hundredth of them is
    // one place of a lap that takes 100 s, and half the laps there are, a third, a quarter.
    ReferenceCourse ring = Shapes.course("ring", true, circle(360));
    CourseIndex index = CourseIndex.of(List.of(ring, Shapes.straight(900)));
    for (int lap = 20; lap <= 400; lap++)
      assertThat(said(index.recognise(steady(circle(lap), 20_000))))
          .as("a lap of %d s", lap)
          .isEqualTo("ring");
  }

  /** A ring of radius 60 m, its last place the first. */
  private static double[][] circle(int parts) {
    double[][] places = new double[parts + 1][];
    for (int i = 0; i <= parts; i++) {
      double a = 2 * Math.PI * (i % parts) / parts;
      places[i] = new double[] {60 * Math.cos(a), 60 * Math.sin(a)};
    }
    return places;
  }

  private static Track steady(double[][] lap, int fixes) {
    List<Position> places = InventedCourse.laidOut(Shapes.HERE, List.of(lap));
    double[] lat = new double[fixes];
    double[] lon = new double[fixes];
    long[] times = new long[fixes];
    for (int i = 0; i < fixes; i++) {
      Position p = places.get(i % (lap.length - 1));
      lat[i] = p.latitudeDeg();
      lon[i] = p.longitudeDeg();
      times[i] = 1000L * i;
    }
    return made(lat, lon, times);
  }

  private static Track made(double[] lat, double[] lon, long[] times) {
    return new Track(
        "made",
        lat,
        lon,
        new double[0],
        times,
        new double[0],
        new double[0],
        new int[] {0},
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }

  @Test
  void oneCourseUnderTwoNamesIsForTheTesterToTell() {
    ReferenceCourse one = Shapes.hairpin();
    ReferenceCourse other = InventedCourse.of("same", "same", one.closed(), one.line().positions());
    CourseIndex index = CourseIndex.of(List.of(one, other, Shapes.figureEight()));
    assertThat(said(index.recognise(track(Walk.of(one), 4))))
        .isEqualTo("ambiguous [hairpin, same]");
  }

  @Test
  void aRunThatComesOverAShortCourseOnItsWayIsOnTheLongOneAlone() {
    ReferenceCourse part = Shapes.straight(600);
    ReferenceCourse whole = Shapes.prolonged(part, 900);
    CourseIndex index = CourseIndex.of(List.of(part, whole));
    for (long seed : MatchingCases.freshSeeds(8)) {
      assertThat(said(index.recognise(track(Walk.of(whole), seed)))).isEqualTo("prolonged");
      assertThat(said(index.recognise(track(Walk.of(part), seed)))).isEqualTo("straight");
    }
  }

  @Test
  void aTrackElsewhereNamesTheNearestCourse() {
    ReferenceCourse near = Shapes.oval();
    Track t = track(Walk.of(near), 1);
    double[] lat = t.latitudesDeg().clone();
    for (int i = 0; i < lat.length; i++) lat[i] += 0.01;
    Track moved = Shapes.with(t, lat, t.longitudesDeg(), t.timesMs());
    CourseChoice choice = CourseIndex.of(List.of(near)).recognise(moved);
    assertThat(said(choice)).isEqualTo("none oval");
    double away = choice.fold(c -> 0.0, a -> 0.0, n -> n.nearest().orElseThrow().distanceM());
    // 0.01 degrees of latitude, less the oval's own half width at most.
    double moveM = Geodesics.lengthM(52.3, 0, 52.31, 0);
    assertThat(away).isBetween(moveM - 160, moveM + 10);
  }

  @Test
  void withoutCoursesThereIsNone() {
    assertThat(said(CourseIndex.of(List.of()).recognise(track(Walk.of(Shapes.oval()), 1))))
        .isEqualTo("none ");
  }
}
