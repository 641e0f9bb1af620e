package milewarden.accuracy;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.course.ReferenceCourse;
import milewarden.track.Track;

/** Measures a recording against a course: one call, one answer, no clock and no file. */
public final class Measurer {
  private Measurer() {}

  /** The recording's passes, each measured, and what a reader must know about them. */
  public static TrackMeasurement measure(
      Track track, ReferenceCourse course, MeasureOptions options) {
    throw new IllegalStateException(
        "not built yet: " + track.size() + course.slug() + options.gait());
  }

  static TrackMeasurement nothing() {
    return new TrackMeasurement(
        0,
        OptionalDouble.empty(),
        new RecordingQuality(
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            0,
            0,
            0,
            0,
            0,
            0,
            OptionalDouble.empty(),
            List.of()),
        List.of(),
        List.of());
  }
}
