package milewarden.accuracy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import milewarden.accuracy.noise.PositionGrid;
import milewarden.device.Gait;
import milewarden.geodesy.LocalMetric;
import milewarden.matching.Timeline;
import milewarden.statistics.Order;
import milewarden.track.Track;

/** A track step by step: lengths, gaps, spikes, and how well it was recorded. */
final class Recording {
  // ENGINE section 7: on foot. On wheels nothing is said there: 25 m/s, common practice, no source.
  private static final double SPIKE_ON_FOOT_MPS = 12;
  private static final double SPIKE_ON_WHEELS_MPS = 25;
  private static final double SPIKE_TIMES = 3;

  final Track track;
  final Timeline timeline;

  /** Geodesic length on the ellipsoid of the step that ends at the fix; 0 over a break. */
  final double[] stepM;

  /** The step that ends at the fix leads over a break between segments. */
  final boolean[] paused;

  /** The fix jumps out and back. */
  final boolean[] spike;

  final RecordedDistance recorded;
  private final double lengthM;
  private final double lengthInGapsM;
  private int gaps;
  private int repeated;
  private int spikes;

  Recording(Track track, Timeline timeline, Gait gait) {
    this.track = track;
    this.timeline = timeline;
    int n = track.size();
    stepM = new double[n];
    paused = new boolean[n];
    spike = new boolean[n];
    recorded = new RecordedDistance(track);
    for (int s = 1; s < track.segments(); s++) paused[track.segmentStart(s)] = true;
    double[] lat = track.latitudesDeg();
    double[] lon = track.longitudesDeg();
    double sum = 0;
    double inGaps = 0;
    for (int i = 1; i < n; i++) {
      if (isGap(i)) gaps++;
      if (paused[i]) continue;
      if (lat[i] == lat[i - 1] && lon[i] == lon[i - 1]) repeated++;
      else stepM[i] = LocalMetric.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
      sum += stepM[i];
      if (isGap(i)) inGaps += stepM[i];
    }
    lengthM = sum;
    lengthInGapsM = inGaps;
    if (timeline.timed()) findSpikes(gait);
  }

  /** A step longer than 3 median intervals, or over a break. */
  boolean isGap(int i) {
    return paused[i] || timeline.isLong(i);
  }

  private double speed(int i) {
    double dt = timeline.second(i) - timeline.second(i - 1);
    return dt > 0 ? stepM[i] / dt : stepM[i] > 0 ? Double.POSITIVE_INFINITY : 0;
  }

  private void findSpikes(Gait gait) {
    int n = stepM.length;
    double least = gait == Gait.RIDE ? SPIKE_ON_WHEELS_MPS : SPIKE_ON_FOOT_MPS;
    boolean any = false;
    for (int i = 1; i < n; i++) any |= !paused[i] && speed(i) > least;
    // The limit is never lower: nothing is to be sorted for it.
    if (!any) return;
    double[] speeds = new double[n];
    int k = 0;
    for (int i = 1; i < n; i++)
      if (!paused[i] && timeline.second(i) > timeline.second(i - 1)) speeds[k++] = speed(i);
    if (k < 3) return;
    speeds = Arrays.copyOf(speeds, k);
    Arrays.sort(speeds);
    double limit = Math.max(least, SPIKE_TIMES * Order.quantile(speeds, 0.95));
    for (int i = 1; i + 1 < n; i++) {
      spike[i] = !paused[i] && !paused[i + 1] && speed(i) > limit && speed(i + 1) > limit;
      if (spike[i]) spikes++;
    }
  }

  /** Geodesic length of all segments on the ellipsoid. */
  double lengthM() {
    return lengthM;
  }

  private static OptionalDouble optional(double value) {
    return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  RecordingQuality quality() {
    List<RecordingQuality.Repair> repairs = new ArrayList<>();
    repair(repairs, "duplicate-time", timeline.duplicates());
    repair(repairs, "backward-time", timeline.backwards());
    repair(repairs, "clock-set-back", timeline.clockSteps());
    repair(repairs, "missing-time", timeline.filled() - unfitTimes());
    repair(repairs, "distance-began-again", recorded.resets());
    return new RecordingQuality(
        optional(timeline.medianIntervalS()),
        optional(timeline.p95IntervalS()),
        gaps,
        lengthM > 0 ? lengthInGapsM / lengthM : 0,
        repeated,
        timeline.duplicates(),
        timeline.backwards(),
        spikes,
        PositionGrid.stepDeg(track),
        repairs);
  }

  /** Times that were set aside and then filled in are counted once, as what they were. */
  private int unfitTimes() {
    return timeline.backwards() - timeline.clockSteps();
  }

  private static void repair(List<RecordingQuality.Repair> repairs, String kind, int count) {
    if (count > 0) repairs.add(new RecordingQuality.Repair(kind, count));
  }
}
