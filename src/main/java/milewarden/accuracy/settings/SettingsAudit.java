package milewarden.accuracy.settings;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.RecordingQuality;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.settings.Departure.Kind;
import milewarden.geodesy.LocalMetric;
import milewarden.track.TimerPause;
import milewarden.track.Track;

/** Compares what a recording shows with what its tester says of the settings. */
public final class SettingsAudit {
  // No source: halfway between the stated interval and the next that a device offers, its double.
  private static final double LONGER = 1.5;
  // A few lost fixes are gaps; one interval in twenty three times as long is a way of recording.
  private static final double UNEVEN = 3;
  // The usual rule of auto-pause, no source: slower than this, metres per second.
  private static final double STANDING_MPS = 0.5;
  // No source: shorter breaks are a button pressed twice, or a lost fix.
  private static final double SHORTEST_PAUSE_S = 3;

  private SettingsAudit() {}

  /**
   * The settings that differ, each once, in the order of their kinds; none where all is as stated.
   */
  public static List<Departure> of(Track track, TrackMeasurement found, StatedSettings stated) {
    List<Departure> all = new ArrayList<>();
    RecordingQuality recording = found.recording();
    double median = recording.medianIntervalS().orElse(0);
    double p95 = recording.p95IntervalS().orElse(0);
    boolean uneven = p95 >= UNEVEN * Math.max(median, stated.intervalS());
    if (uneven && !stated.uneven()) all.add(new Departure(Kind.UNEVEN_INTERVAL, p95));
    else if (median > LONGER * stated.intervalS() && !stated.uneven())
      all.add(new Departure(Kind.LONG_INTERVAL, median));
    int pauses = stated.autoPause() ? 0 : pauses(track, found);
    if (pauses > 0) all.add(new Departure(Kind.AUTO_PAUSE, pauses));
    if (says(found, Finding.Code.SNAPPED_TO_LINE)) all.add(new Departure(Kind.SNAPPED, 0));
    if (says(found, Finding.Code.COARSE_POSITIONS))
      all.add(new Departure(Kind.COARSE, recording.positionStepDeg().orElse(0)));
    return all;
  }

  private static boolean says(TrackMeasurement found, Finding.Code code) {
    return found.findings().stream().anyMatch(f -> f.code() == code);
  }

  /** Breaks inside of the passes in which nobody moved. */
  private static int pauses(Track track, TrackMeasurement found) {
    int count = 0;
    for (int s = 1; s < track.segments(); s++) if (stood(track, s, found)) count++;
    if (count > 0) return count;
    // A format that tells of its timer need not begin a new segment.
    for (TimerPause pause : track.pauses())
      if (lasts(pause) && within(found, pause.from()) && within(found, pause.to())) count++;
    return count;
  }

  private static boolean lasts(TimerPause pause) {
    return pause.to().toEpochMilli() - pause.from().toEpochMilli() >= 1000 * SHORTEST_PAUSE_S;
  }

  private static boolean stood(Track track, int segment, TrackMeasurement found) {
    int to = track.segmentStart(segment);
    int from = to - 1;
    if (!track.hasTime(from) || !track.hasTime(to)) return false;
    double seconds = (track.timesMs()[to] - track.timesMs()[from]) / 1000.0;
    if (!(seconds >= SHORTEST_PAUSE_S)) return false;
    double movedM =
        LocalMetric.lengthM(
            track.latitudesDeg()[from],
            track.longitudesDeg()[from],
            track.latitudesDeg()[to],
            track.longitudesDeg()[to]);
    return movedM < STANDING_MPS * seconds
        && within(found, Instant.ofEpochMilli(track.timesMs()[from]))
        && within(found, Instant.ofEpochMilli(track.timesMs()[to]));
  }

  private static boolean within(TrackMeasurement found, Instant at) {
    for (PassMeasurement pass : found.passes()) {
      Optional<Instant> start = pass.startedAt();
      if (start.isEmpty() || pass.durationS().isEmpty()) continue;
      Instant end = start.get().plusMillis(Math.round(1000 * pass.durationS().getAsDouble()));
      if (!at.isBefore(start.get()) && !at.isAfter(end)) return true;
    }
    return false;
  }
}
