package milewarden.benchmark;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/**
 * An hour's run of 10 km at one fix a second, with correlated noise of 3 m and 20 s, and the files
 * that a device could have made of it: the work on which all benchmarks are held.
 */
public enum Hour {
  /** Four laps of a closed 2.5 km of 600 vertices; position, height and time. */
  LOOP_MIN(true, ""),
  /** The same with an extension block in every fix. */
  LOOP_EXT(true, TrackFiles.EXTENSIONS),
  /** A winding path of 5 km and the same way back, drawn as one line of 2,000 vertices. */
  OUT_BACK_MIN(false, ""),
  /** The same with an extension block in every fix. */
  OUT_BACK_EXT(false, TrackFiles.EXTENSIONS);

  /** 10 km in the hour. */
  static final double SPEED_MPS = 10_000 / 3600.0;

  final ReferenceCourse course;
  final Track track;
  final byte[] gpx;
  final NearestByJts jts;

  Hour(boolean loop, String more) {
    course = loop ? loop() : outAndBack();
    track = track(Walk.of(course).withLaps(loop ? 4 : 1), 1);
    gpx = TrackFiles.gpx(track, more);
    jts = new NearestByJts(course);
  }

  private static Position here() {
    return new Position(46.5, -31.5);
  }

  /** A circle of 2.5 km. */
  static ReferenceCourse loop() {
    return InventedCourse.circle("loop", here(), 2500 / (2 * Math.PI), 600);
  }

  private static ReferenceCourse outAndBack() {
    List<double[]> plan = new ArrayList<>();
    for (int i = 0; i < 2000; i++) {
      int at = i < 1000 ? i : 1999 - i;
      // The way back lies 1 cm beside the way out: no line may step on its own vertices.
      plan.add(new double[] {400 * Math.sin(at / 80.0) + (i < 1000 ? 0 : 0.01), 4800.0 * at / 999});
    }
    return InventedCourse.of("out-back", "out-back", false, InventedCourse.laidOut(here(), plan));
  }

  /** One fix a second of this walk, run at 10 km in the hour. */
  static Track track(Walk walk, long seed) {
    return TrackSimulator.simulate(
            walk.withGait(Gait.RUN, SPEED_MPS).withStart(Instant.parse("2026-05-12T07:00:00Z")),
            Receiver.PERFECT.withNoise(3, 20, 0),
            Sky.CLEAR,
            seed)
        .track();
  }
}
