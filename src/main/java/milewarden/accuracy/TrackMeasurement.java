package milewarden.accuracy;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.track.Drops;

/**
 * A recording measured against one course.
 *
 * @param trackLengthM geodesic length of all segments on the ellipsoid
 * @param recordedLengthM the device's own total
 * @param passes in order of time; empty where the track is not on the course
 * @param findings what a reader must know: typed, worded by the report
 */
public record TrackMeasurement(
    double trackLengthM,
    OptionalDouble recordedLengthM,
    RecordingQuality recording,
    List<PassMeasurement> passes,
    List<Finding> findings) {
  public TrackMeasurement {
    passes = List.copyOf(passes);
    findings = List.copyOf(findings);
  }

  /** With what was left out while the file was read among the recording's repairs. */
  public TrackMeasurement withDrops(Drops drops) {
    return new TrackMeasurement(
        trackLengthM, recordedLengthM, recording.withDrops(drops), passes, findings);
  }

  /** This measurement with these findings. */
  public TrackMeasurement with(List<Finding> to) {
    return new TrackMeasurement(trackLengthM, recordedLengthM, recording, passes, to);
  }

  /**
   * A finding about a track.
   *
   * @param code closed list
   * @param place a pass, a time or a chainage; empty for the whole
   * @param detail numbers that belong to it, short
   */
  public record Finding(Code code, String place, String detail) {
    /** What was found. */
    public enum Code {
      NO_COURSE,
      AMBIGUOUS_COURSE,
      NO_PASS,
      OFF_LINE,
      PARTIAL_LAP,
      BOUNDS_GUESSED,
      NO_TIMES,
      COARSE_POSITIONS,
      DISPLAY_TOO_COARSE,
      TOO_MUCH_JUNK,
      SHOWN_COUNT_MISMATCH,
      LINE_DISAGREES,
      PAUSED,
      SNAPPED_TO_LINE,
      NOT_PLAIN_NOISE,
      LAPS_UNSURE,
      DIRECTION_UNSURE,
      OWN_DRAFT,
      SETTINGS_DIFFER,
      CLOCK_MOVED,
      CLOCK_DOUBTFUL
    }
  }
}
