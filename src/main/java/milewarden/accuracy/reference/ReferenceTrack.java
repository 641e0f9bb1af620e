package milewarden.accuracy.reference;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.geodesy.LocalMetric;
import milewarden.geodesy.Radii;
import milewarden.statistics.Sample;
import milewarden.track.Track;

/**
 * Where somebody really was, by a receiver far better than those under test, carried along on the
 * same clock. Between two of its fixes it went straight at an even speed; over a gap (more than 3
 * of its median intervals, or a new segment) and beyond its ends nothing is known.
 */
public final class ReferenceTrack {
  // The share of ENGINE section 6: a step longer than 3 median intervals is a gap.
  private static final double GAP_INTERVALS = 3;

  private final long[] timesMs;
  private final double[] latitudesDeg;
  private final double[] longitudesDeg;

  /** True where nothing is known between this fix and the one before. */
  private final boolean[] afterGap;

  private ReferenceTrack(Track track) {
    int n = track.size();
    long[] times = new long[n];
    double[] lat = new double[n];
    double[] lon = new double[n];
    boolean[] gap = new boolean[n];
    int kept = 0;
    for (int s = 0; s < track.segments(); s++) {
      boolean first = true;
      for (int i = track.segmentStart(s); i < track.segmentEnd(s); i++) {
        long t = track.timesMs()[i];
        // A fix without a time, or that does not come after the one before, is at no known time.
        if (t == Track.NO_TIME || (kept > 0 && t <= times[kept - 1])) continue;
        times[kept] = t;
        lat[kept] = track.latitudesDeg()[i];
        lon[kept] = track.longitudesDeg()[i];
        gap[kept++] = first;
        first = false;
      }
    }
    timesMs = Arrays.copyOf(times, kept);
    latitudesDeg = Arrays.copyOf(lat, kept);
    longitudesDeg = Arrays.copyOf(lon, kept);
    afterGap = Arrays.copyOf(gap, kept);
    longStepsAreGaps();
  }

  /** Of a track with times; one without knows no place. */
  public static ReferenceTrack of(Track track) {
    return new ReferenceTrack(track);
  }

  private void longStepsAreGaps() {
    double[] steps = new double[timesMs.length];
    int k = 0;
    for (int i = 1; i < timesMs.length; i++)
      if (!afterGap[i]) steps[k++] = timesMs[i] - (double) timesMs[i - 1];
    if (k == 0) return;
    double longest = GAP_INTERVALS * Sample.median(Arrays.copyOf(steps, k));
    for (int i = 1; i < timesMs.length; i++)
      if (timesMs[i] - (double) timesMs[i - 1] > longest) afterGap[i] = true;
  }

  /**
   * What came of comparing a recording with this track.
   *
   * @param epochs the fixes that could be compared, in the order of the recording
   * @param errors empty where there is not one
   * @param unmatched fixes without a time, or at a time at which this track knows no place
   * @param clockDifferenceS by how many seconds the recording's times would have to be later to fit
   *     best, where that fits far better than as it stands: another clock, or positions that lag.
   *     Nothing is corrected for it
   */
  public record Compared(
      List<Epoch> epochs,
      Optional<PositionErrors> errors,
      int unmatched,
      OptionalDouble clockDifferenceS) {
    public Compared {
      epochs = List.copyOf(epochs);
    }
  }

  /** The error of every fix of a recording at its own time. */
  public Compared compare(Track recording) {
    List<Epoch> epochs = new ArrayList<>();
    int unmatched = 0;
    for (int i = 0; i < recording.size(); i++) {
      Optional<Epoch> error = error(recording, i, 0);
      error.ifPresent(epochs::add);
      if (error.isEmpty()) unmatched++;
    }
    Optional<PositionErrors> errors =
        epochs.isEmpty() ? Optional.empty() : Optional.of(PositionErrors.of(epochs));
    return new Compared(epochs, errors, unmatched, new ClockFit(this, recording).differenceS());
  }

  /** The span of time in which this track knows places; empty without times. */
  public Optional<Instant> startedAt() {
    return timesMs.length == 0 ? Optional.empty() : Optional.of(Instant.ofEpochMilli(timesMs[0]));
  }

  /** The last time at which it knows a place. */
  public Optional<Instant> endedAt() {
    return timesMs.length == 0
        ? Optional.empty()
        : Optional.of(Instant.ofEpochMilli(timesMs[timesMs.length - 1]));
  }

  /**
   * The error of fix {@code i}, its clock moved.
   *
   * @param laterMs added to its time
   */
  Optional<Epoch> error(Track recording, int i, long laterMs) {
    long given = recording.timesMs()[i];
    if (given == Track.NO_TIME) return Optional.empty();
    long t = given + laterMs;
    int found = Arrays.binarySearch(timesMs, t);
    double lat;
    double lon;
    if (found >= 0) {
      lat = latitudesDeg[found];
      lon = longitudesDeg[found];
    } else {
      int after = -found - 1;
      if (after == 0 || after == timesMs.length || afterGap[after]) return Optional.empty();
      int before = after - 1;
      double f = (t - timesMs[before]) / (double) (timesMs[after] - timesMs[before]);
      lat = latitudesDeg[before] + f * (latitudesDeg[after] - latitudesDeg[before]);
      double dLon = Math.IEEEremainder(longitudesDeg[after] - longitudesDeg[before], 360);
      lon = Math.IEEEremainder(longitudesDeg[before] + f * dLon, 360);
    }
    return Optional.of(
        between(
            Instant.ofEpochMilli(given),
            lat,
            lon,
            recording.latitudesDeg()[i],
            recording.longitudesDeg()[i]));
  }

  /** The length is that of {@link LocalMetric}, its parts those of the mean latitude's radii. */
  private static Epoch between(
      Instant at, double lat, double lon, double foundLat, double foundLon) {
    double mean = (lat + foundLat) / 2;
    double north = Radii.meridianM(mean) * Math.toRadians(foundLat - lat);
    double east =
        Radii.primeVerticalM(mean)
            * Math.cos(Math.toRadians(mean))
            * Math.toRadians(Math.IEEEremainder(foundLon - lon, 360));
    double size = Math.hypot(east, north);
    if (size == 0) return new Epoch(at, 0, 0);
    double scale = LocalMetric.lengthM(lat, lon, foundLat, foundLon) / size;
    return new Epoch(at, east * scale, north * scale);
  }
}
