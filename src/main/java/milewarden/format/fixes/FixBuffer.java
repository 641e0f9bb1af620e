package milewarden.format.fixes;

import java.time.Instant;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import milewarden.track.DeviceClaim;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TimerPause;
import milewarden.track.Track;

/**
 * Fixes as they are read, in growing primitive arrays; judges what is no place, counts what it
 * drops, and says what is odd about what it keeps.
 */
public final class FixBuffer {
  // A file names no time before satellites could be used by everyone, or long after its reader.
  private static final long EARLIEST_MS = 788_918_400_000L; // 1995-01-01, full operation of GPS
  private static final long LATEST_MS = 4_102_444_800_000L; // 2100-01-01, our own bound

  // A day at one a second.
  private static final int MANY = 86_400;

  private final IssueLog issues;
  private final Supplier<String> place;
  private double[] latitudes = new double[1024];
  private double[] longitudes = new double[1024];
  private long[] times = new long[1024];
  private double[] heights = {};
  private double[] distances = {};
  private double[] speeds = {};
  private double[] cadences = {};
  private int[] starts = new int[16];
  private final BitSet countStarts = new BitSet();
  private int size;
  private int segments;
  private int seen;
  private boolean atStart = true;
  private long lastTime = Track.NO_TIME;

  public FixBuffer(IssueLog issues, Supplier<String> place) {
    this.issues = issues;
    this.place = place;
  }

  /** A fix begins in the file; it will be kept or dropped. */
  public void begin() {
    seen++;
  }

  public int seen() {
    return seen;
  }

  public int size() {
    return size;
  }

  /** Whether the next kept fix begins a segment. */
  public boolean atSegmentStart() {
    return atStart;
  }

  /** The device's count of metres may begin again at the next kept fix, though no segment does. */
  public void countMayBeginAnew() {
    countStarts.set(size);
  }

  /** The next kept fix begins a new segment. */
  public void startSegment() {
    atStart = true;
  }

  public void drop(Issue.Kind kind, String detail) {
    issues.add(kind, place, detail);
  }

  /**
   * Keeps a fix that was begun and accepted, or drops it as the exact repetition of the one before.
   *
   * @param latitude degrees
   * @param time milliseconds or NO_TIME
   * @param height metres or NaN; so are distance, speed and cadence where missing
   */
  public void add(
      double latitude,
      double longitude,
      double height,
      long time,
      double distance,
      double speed,
      double cadence) {
    if (!atStart && isRepetition(latitude, longitude, height, time)) {
      drop(Issue.Kind.EXACT_DUPLICATE, "");
      return;
    }
    checkTime(time, place);
    int i = size;
    if (i == latitudes.length) grow();
    latitudes[i] = latitude;
    longitudes[i] = longitude;
    times[i] = time;
    heights = put(heights, i, height);
    distances = put(distances, i, distance);
    speeds = put(speeds, i, speed);
    cadences = put(cadences, i, cadence);
    if (atStart) {
      if (segments == starts.length) starts = Arrays.copyOf(starts, segments * 2);
      starts[segments++] = i;
      atStart = false;
    }
    size++;
  }

  /** Whether this is a place on Earth; else the fix that was begun is dropped. Not NaN. */
  public boolean accepts(double latitude, double longitude) {
    // (0, 0) and the largest number of an integer format, 180 degrees: marks for "no fix".
    boolean origin = latitude == 0 && longitude == 0;
    boolean largest = Math.abs(latitude) > 179.999 && Math.abs(longitude) > 179.999;
    boolean inRange = Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180;
    if (!origin && inRange) return true;
    boolean sentinel = origin || largest && Math.abs(latitude) <= 180 && Math.abs(longitude) <= 180;
    drop(
        sentinel ? Issue.Kind.POSITION_SENTINEL : Issue.Kind.POSITION_OUT_OF_RANGE,
        latitude + ", " + longitude);
    return false;
  }

  private boolean isRepetition(double latitude, double longitude, double height, long time) {
    int last = size - 1;
    if (last < 0 || time == Track.NO_TIME || times[last] != time) return false;
    double lastHeight = heights.length == 0 ? Double.NaN : heights[last];
    return latitudes[last] == latitude
        && longitudes[last] == longitude
        && Double.compare(lastHeight, height) == 0;
  }

  private void checkTime(long time, Supplier<String> where) {
    if (time == Track.NO_TIME) return;
    if (time < EARLIEST_MS || time > LATEST_MS)
      issues.add(Issue.Kind.TIME_IMPLAUSIBLE, where, Instant.ofEpochMilli(time) + "");
    if (lastTime != Track.NO_TIME && time <= lastTime) {
      Issue.Kind kind = time == lastTime ? Issue.Kind.TIME_REPEATED : Issue.Kind.TIME_GOES_BACK;
      issues.add(kind, where, Instant.ofEpochMilli(time) + "");
    }
    lastTime = time;
  }

  private void grow() {
    // Many by half, and to no more than a file may have: doubling a million fixes would need more
    // memory than they do.
    int before = latitudes.length;
    int grown = before + (before < MANY ? before : before >> 1);
    int most = ReadLimits.DEFAULT.fixes();
    int capacity = before < most ? Math.min(grown, most) : grown;
    latitudes = Arrays.copyOf(latitudes, capacity);
    longitudes = Arrays.copyOf(longitudes, capacity);
    times = Arrays.copyOf(times, capacity);
  }

  /** Optional values cost nothing until the first one comes. */
  private double[] put(double[] values, int i, double value) {
    if (values.length == 0 && Double.isNaN(value)) return values;
    double[] array = values;
    if (i >= array.length) {
      int before = array.length;
      array = Arrays.copyOf(array, latitudes.length);
      Arrays.fill(array, before, array.length, Double.NaN);
    }
    array[i] = value;
    return array;
  }

  /**
   * Cuts segments where the timer stood: before the first fix later than its stop, and before the
   * first one not earlier than its start. For fixes in order of time; others are looked at in the
   * order of the file.
   *
   * @param pauses in order of time
   */
  public void splitAt(List<TimerPause> pauses) {
    BitSet cuts = new BitSet();
    for (int s = 0; s < segments; s++) cuts.set(starts[s]);
    int i = 0;
    for (TimerPause pause : pauses) {
      long stop = pause.from().toEpochMilli();
      long go = pause.to().toEpochMilli();
      while (i < size && times[i] <= stop) i++;
      if (i > 0 && i < size) cuts.set(i);
      while (i < size && times[i] < go) i++;
      if (i > 0 && i < size) cuts.set(i);
    }
    starts = cuts.stream().toArray();
    segments = starts.length;
  }

  /** Moves the times of all fixes kept so far: what they were counted from became known. */
  public void shiftTimes(long ms) {
    for (int i = 0; i < size; i++) if (times[i] != Track.NO_TIME) times[i] += ms;
    if (lastTime != Track.NO_TIME) lastTime += ms;
  }

  /**
   * Other times for all fixes kept: what they mean became known at the end of the file.
   *
   * @param replaced milliseconds, as many as fixes were kept
   */
  public void replaceTimes(long[] replaced) {
    if (replaced.length != size) throw new IllegalArgumentException("times: " + replaced.length);
    System.arraycopy(replaced, 0, times, 0, size);
    tellOrderAnew();
  }

  /** Turns the fixes round where the file has the newest first. */
  public void oldestFirst() {
    int back = 0;
    int on = 0;
    for (int i = 1; i < size; i++) {
      if (times[i] == Track.NO_TIME || times[i - 1] == Track.NO_TIME) continue;
      if (times[i] < times[i - 1]) back++;
      else if (times[i] > times[i - 1]) on++;
    }
    // Nine of ten steps go back: no disorder of a recorder does that.
    if (back < 9 * on || back == 0) return;
    reverse();
    issues.add(Issue.Kind.NEWEST_FIRST, () -> "the whole file", "");
    tellOrderAnew();
  }

  private void tellOrderAnew() {
    issues.forget(Issue.Kind.TIME_GOES_BACK);
    issues.forget(Issue.Kind.TIME_REPEATED);
    issues.forget(Issue.Kind.TIME_IMPLAUSIBLE);
    lastTime = Track.NO_TIME;
    for (int i = 0; i < size; i++) {
      int at = i;
      checkTime(times[i], () -> "fix " + (at + 1));
    }
  }

  private void reverse() {
    for (double[] values : new double[][] {heights, distances, speeds, cadences})
      if (values.length > 0 && values.length < size)
        throw new IllegalStateException("a value array is shorter than the fixes");
    for (int i = 0, j = size - 1; i < j; i++, j--) {
      swap(latitudes, i, j);
      swap(longitudes, i, j);
      long t = times[i];
      times[i] = times[j];
      times[j] = t;
      swap(heights, i, j);
      swap(distances, i, j);
      swap(speeds, i, j);
      swap(cadences, i, j);
    }
    int[] turned = new int[segments];
    for (int s = 0; s < segments; s++)
      turned[segments - 1 - s] = s + 1 < segments ? size - starts[s + 1] : 0;
    starts = turned;
    countStarts.clear();
  }

  private static void swap(double[] values, int i, int j) {
    if (values.length == 0) return;
    double v = values[i];
    values[i] = values[j];
    values[j] = v;
  }

  /** Drops the fix kept last after all. */
  public void takeBack(Issue.Kind kind) {
    size--;
    if (segments > 0 && starts[segments - 1] == size) {
      segments--;
      atStart = true;
    }
    drop(kind, "");
  }

  /**
   * Drops the last segment where an earlier one has the same positions.
   *
   * @param within degrees by which positions may differ
   */
  public void dropSegmentThatRepeats(double within) {
    if (segments < 2 || atStart) return;
    int from = starts[segments - 1];
    int length = size - from;
    for (int s = 0; s < segments - 1; s++) {
      boolean equal =
          starts[s + 1] - starts[s] == length && same(this, starts[s], from, length, within);
      if (!equal) continue;
      for (int i = 0; i < length; i++) takeBack(Issue.Kind.SAME_PATH_TWICE);
      return;
    }
  }

  /** Whether the other buffer holds the same positions, one for one. */
  public boolean samePath(FixBuffer other, double within) {
    return size == other.size && same(other, 0, 0, size, within);
  }

  private boolean same(FixBuffer other, int theirs, int ours, int length, double within) {
    for (int i = 0; i < length; i++) {
      boolean near =
          Math.abs(other.latitudes[theirs + i] - latitudes[ours + i]) <= within
              && Math.abs(other.longitudes[theirs + i] - longitudes[ours + i]) <= within;
      if (!near) return false;
    }
    return true;
  }

  /** The track; only where a fix was kept. The buffer is of no use after it. */
  public Track track(String format, DeviceClaim claim, OptionalDouble claimedTotal) {
    // One by one, so that never more than one array is held twice.
    latitudes = trimmed(latitudes);
    longitudes = trimmed(longitudes);
    times = times.length == size ? times : Arrays.copyOf(times, size);
    heights = trimmed(heights);
    speeds = trimmed(speeds);
    cadences = trimmed(cadences);
    distances = monotone(trimmed(distances));
    Track track =
        new Track(
            format,
            latitudes,
            longitudes,
            heights,
            times,
            distances,
            speeds,
            Arrays.copyOf(starts, segments),
            claim,
            claimedTotal);
    return cadences.length == 0 ? track : track.withCadencesPerMin(cadences);
  }

  private double[] trimmed(double[] values) {
    return values.length == 0 || values.length == size ? values : Arrays.copyOf(values, size);
  }

  /**
   * The device's cumulative distance. A count that begins again at a new segment or lap goes on
   * from where the last one ended; one that goes back elsewhere is no cumulative distance and is
   * not used.
   */
  private double[] monotone(double[] values) {
    double base = 0;
    double last = Double.NEGATIVE_INFINITY;
    for (int s = 0; s < segments; s++) countStarts.set(starts[s]);
    boolean first = true;
    for (int i = 0; i < values.length; i++) {
      first |= countStarts.get(i);
      if (Double.isNaN(values[i])) continue;
      double value = values[i] + base;
      if (value < last && first) {
        base = last;
        value = values[i] + base;
      }
      first = false;
      if (value < last) {
        int at = i;
        issues.add(
            Issue.Kind.VALUE_UNREADABLE, () -> "fix " + (at + 1), "distance goes back: not used");
        return new double[0];
      }
      values[i] = value;
      last = value;
    }
    return values;
  }

  public Drops drops() {
    return new Drops(seen, size, issues.counts(), issues.details());
  }
}
