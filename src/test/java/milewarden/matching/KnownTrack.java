package milewarden.matching;

import java.util.List;
import java.util.Optional;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Truth;
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
 * @param truth of the way that was simulated; its chainage is that of this way
 */
public record KnownTrack(
    ReferenceCourse course,
    List<ReferenceCourse> among,
    Track track,
    double[] lowM,
    double[] highM,
    boolean[] thrown,
    Optional<Direction> hint,
    Truth truth) {
  static KnownTrack of(ReferenceCourse course, SimulatedTrack s) {
    double[] truth = s.truth().chainageM();
    return of(course, s, truth, truth);
  }

  static KnownTrack of(ReferenceCourse course, SimulatedTrack s, double[] lowM, double[] highM) {
    boolean[] thrown = new boolean[s.track().size()];
    return new KnownTrack(
        course, List.of(), s.track(), lowM, highM, thrown, Optional.empty(), s.truth());
  }

  /** How far along the line the fix lies from where the device was, metres. */
  double noiseAlongM(int i, double headingRad) {
    Position was = new Position(truth.latitudeDeg()[i], truth.longitudeDeg()[i]);
    Position seen = new Position(track.latitudesDeg()[i], track.longitudesDeg()[i]);
    double apart =
        Geodesics.lengthM(
            was.latitudeDeg(), was.longitudeDeg(), seen.latitudeDeg(), seen.longitudeDeg());
    return apart * Math.cos(Math.toRadians(Geodesics.azimuthDeg(was, seen)) - headingRad);
  }

  KnownTrack among(List<ReferenceCourse> courses) {
    return new KnownTrack(course, courses, track, lowM, highM, thrown, hint, truth);
  }

  KnownTrack withHint(Optional<Direction> to) {
    return new KnownTrack(course, among, track, lowM, highM, thrown, to, truth);
  }

  KnownTrack withoutTimes() {
    return new KnownTrack(
        course, among, Shapes.withoutTimes(track), lowM, highM, thrown, hint, truth);
  }

  /** Every {@code every}-th fix thrown 40 to 150 m off. */
  KnownTrack withOutliers(int every, long seed) {
    boolean[] off = thrown.clone();
    for (int i = every / 2; i < off.length; i += every) off[i] = true;
    Track worse = Shapes.withOutliers(track, every, seed);
    return new KnownTrack(course, among, worse, lowM, highM, off, hint, truth);
  }
}
