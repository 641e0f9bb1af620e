package milewarden.matching;

import java.time.Instant;
import java.util.Arrays;
import milewarden.track.Track;

/**
 * The times of a track made fit for measuring: never falling, missing ones filled in between their
 * neighbours. The track itself is left as it is; what was done is counted.
 */
public final class Timeline {
  private final long zeroMs;
  private final double[] seconds;
  private final boolean timed;
  private final int duplicates;
  private final int backwards;
  private final int clockSteps;
  private final int filled;
  private final double medianIntervalS;
  private final double p95IntervalS;

  private Timeline(Track track) {
    long[] times = track.timesMs();
    int n = times.length;
    int given = 0;
    for (long t : times) if (t != Track.NO_TIME) given++;
    // With fewer than half of the times the speed of most fixes would be a guess.
    timed = n > 1 && given * 2 >= n;
    zeroMs = zero(times);
    seconds = new double[n];
    if (!timed) {
      Arrays.fill(seconds, Double.NaN);
      duplicates = 0;
      backwards = 0;
      clockSteps = 0;
      filled = 0;
      medianIntervalS = Double.NaN;
      p95IntervalS = Double.NaN;
      return;
    }
    int[] counts = new int[3];
    accept(times, zeroMs, seconds, counts);
    duplicates = counts[0];
    backwards = counts[1];
    clockSteps = counts[2];
    filled = fill(seconds);
    double[] steps = new double[n];
    int k = 0;
    for (int s = 0; s < track.segments(); s++)
      for (int i = track.segmentStart(s) + 1; i < track.segmentEnd(s); i++)
        if (times[i] != Track.NO_TIME && seconds[i] > seconds[i - 1])
          steps[k++] = seconds[i] - seconds[i - 1];
    steps = Arrays.copyOf(steps, k);
    Arrays.sort(steps);
    medianIntervalS = quantile(steps, 0.5);
    p95IntervalS = quantile(steps, 0.95);
  }

  public static Timeline of(Track track) {
    return new Timeline(track);
  }

  /** Takes the times that fit; the others stay NaN. Counts duplicates, backward times, steps. */
  private static void accept(long[] times, long zero, double[] seconds, int[] counts) {
    int n = times.length;
    double last = Double.NEGATIVE_INFINITY;
    // A clock that was set back goes on from there: what follows is shifted by as much.
    double shift = 0;
    double ahead = at(times, 0, zero);
    for (int i = 0; i < n; i++) {
      double here = ahead;
      ahead = i + 1 < n ? at(times, i + 1, zero) : Double.NaN;
      seconds[i] = Double.NaN;
      if (times[i] == Track.NO_TIME) continue;
      double t = here + shift;
      double next = ahead + shift;
      if (t > last && next < t && next > last && last > Double.NEGATIVE_INFINITY) {
        // This one alone runs ahead: the next one fits to the one before.
        counts[1]++;
        continue;
      }
      if (t < last) {
        counts[1]++;
        if (!(next < last)) continue;
        shift += last + 1 - t;
        t = last + 1;
        counts[2]++;
      } else if (t == last) {
        counts[0]++;
      }
      seconds[i] = t;
      last = t;
    }
  }

  private static long zero(long[] times) {
    for (long t : times) if (t != Track.NO_TIME) return t;
    return 0;
  }

  private static double at(long[] times, int i, long zero) {
    return times[i] == Track.NO_TIME ? Double.NaN : (times[i] - zero) / 1000.0;
  }

  private static int fill(double[] seconds) {
    int filled = 0;
    int n = seconds.length;
    int before = -1;
    for (int i = 0; i < n; i++) {
      if (Double.isNaN(seconds[i])) continue;
      for (int j = before + 1; j < i; j++) {
        double from = before < 0 ? seconds[i] : seconds[before];
        seconds[j] = from + (seconds[i] - from) * (j - before) / (i - before);
        filled++;
      }
      before = i;
    }
    for (int j = before + 1; j < n; j++) {
      seconds[j] = seconds[before];
      filled++;
    }
    return filled;
  }

  /** Type 7 of Hyndman and Fan (1996), The American Statistician 50, 361-365. */
  static double quantile(double[] sorted, double p) {
    if (sorted.length == 0) return Double.NaN;
    double h = (sorted.length - 1) * p;
    int i = (int) h;
    if (i + 1 >= sorted.length) return sorted[sorted.length - 1];
    return sorted[i] + (h - i) * (sorted[i + 1] - sorted[i]);
  }

  /** False where fewer than half of the fixes have a time: then every {@link #second} is NaN. */
  public boolean timed() {
    return timed;
  }

  /** Seconds since the first time of the track; never falling. */
  public double second(int i) {
    return seconds[i];
  }

  /** The instant of a second of this timeline; only where it is timed. */
  public Instant instant(double second) {
    if (!timed) throw new IllegalStateException("a track without times");
    return Instant.ofEpochMilli(zeroMs + Math.round(second * 1000));
  }

  /** Fixes with the time of the one before. */
  public int duplicates() {
    return duplicates;
  }

  /** Fixes whose time was set aside because it goes back (or runs ahead alone). */
  public int backwards() {
    return backwards;
  }

  /** How often the clock was set back and went on from there. */
  public int clockSteps() {
    return clockSteps;
  }

  /** Fixes whose time was filled in between neighbours. */
  public int filled() {
    return filled;
  }

  /** NaN without times. */
  public double medianIntervalS() {
    return medianIntervalS;
  }

  /** 95th percentile, type 7; NaN without times. */
  public double p95IntervalS() {
    return p95IntervalS;
  }

  /** True where the step from {@code i - 1} to {@code i} is longer than 3 median intervals. */
  public boolean isLong(int i) {
    return timed && seconds[i] - seconds[i - 1] > 3 * medianIntervalS;
  }
}
