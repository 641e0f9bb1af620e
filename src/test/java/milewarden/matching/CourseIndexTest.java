package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Geodesics;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
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
