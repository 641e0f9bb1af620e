package milewarden.matching;

import java.util.List;
import java.util.Optional;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.simulator.SimulatedTrack;
import milewarden.track.Track;

/**
 * A track and what is known about it.
 *
 * @param course that it was run on
 * @param among courses that recognition chooses from; empty where the course is given
 * @param lowM the true chainage of every fix, metres on the ground, on a closed course over laps
 * @param highM equal to {@code lowM} on the line; off it the walker left the line at the one and
 *     came back to it at the other
 * @param thrown fixes that were thrown off on purpose
 * @param hint the direction that the tester gave
 */
public record KnownTrack(
    ReferenceCourse course,
    List<ReferenceCourse> among,
    Track track,
    double[] lowM,
    double[] highM,
    boolean[] thrown,
    Optional<Direction> hint) {
  static KnownTrack of(ReferenceCourse course, SimulatedTrack s) {
    double[] truth = s.truth().chainageM();
    return of(course, s.track(), truth, truth);
  }

  static KnownTrack of(ReferenceCourse course, Track track, double[] lowM, double[] highM) {
    return new KnownTrack(
        course, List.of(), track, lowM, highM, new boolean[track.size()], Optional.empty());
  }

  /** Since the first fix; where the times were taken away, as if there were one a second. */
  double seconds(int i) {
    return track.hasTime(i) ? (track.timesMs()[i] - track.timesMs()[0]) / 1000.0 : i;
  }

  KnownTrack among(List<ReferenceCourse> courses) {
    return new KnownTrack(course, courses, track, lowM, highM, thrown, hint);
  }

  KnownTrack withHint(Optional<Direction> to) {
    return new KnownTrack(course, among, track, lowM, highM, thrown, to);
  }

  KnownTrack withoutTimes() {
    return new KnownTrack(course, among, Shapes.withoutTimes(track), lowM, highM, thrown, hint);
  }

  /** Every {@code every}-th fix thrown 40 to 150 m off. */
  KnownTrack withOutliers(int every, long seed) {
    boolean[] off = thrown.clone();
    for (int i = every / 2; i < off.length; i += every) off[i] = true;
    Track worse = Shapes.withOutliers(track, every, seed);
    return new KnownTrack(course, among, worse, lowM, highM, off, hint);
  }
}
