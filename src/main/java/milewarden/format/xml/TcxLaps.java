package milewarden.format.xml;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.track.ClaimedLap;
import milewarden.track.Track;

/**
 * The laps of a TCX file, and whether the timer stood where one track follows another.
 *
 * <p>A second track inside a lap begins after a pause, so it begins a segment and the jump to it is
 * no length. The first track of the next lap goes on where the last lap ended: the timer ran, so
 * the metres between are the runner's and the segment goes on. Only where the laps' own times say
 * that the timer stood between them (the next start is later than this start, its timer time and
 * its pauses by more than {@link #WHOLE_SECONDS_MS}), a segment begins there, too.
 */
final class TcxLaps {
  /** Start, end and timer are each written in whole seconds by many: two of them round apart. */
  private static final long WHOLE_SECONDS_MS = 2_000;

  private final List<ClaimedLap> laps = new ArrayList<>();
  private long start = Track.NO_TIME;
  private double timerS = Double.NaN;
  private double distanceM = Double.NaN;
  private long pausesMs;
  private int tracks;
  private boolean pauseBefore;

  /** Another activity: its first lap follows none. */
  void forget() {
    start = Track.NO_TIME;
    timerS = Double.NaN;
    pausesMs = 0;
    tracks = 0;
    pauseBefore = false;
  }

  /**
   * A lap begins.
   *
   * @param at milliseconds, or {@link Track#NO_TIME}
   * @return whether it goes on where the last one ended, as far as the file tells
   */
  boolean open(long at) {
    boolean known = start != Track.NO_TIME && at != Track.NO_TIME;
    double end = start + timerS * 1000 + pausesMs;
    // NaN compares as false: nothing says that the timer stood.
    pauseBefore = known && at - end > WHOLE_SECONDS_MS;
    start = at;
    timerS = Double.NaN;
    distanceM = Double.NaN;
    pausesMs = 0;
    tracks = 0;
    return !pauseBefore;
  }

  /** A track begins: whether the timer stood before it. */
  boolean openTrack() {
    boolean paused = ++tracks > 1 || pauseBefore;
    pauseBefore = false;
    return paused;
  }

  /** Whether the track at hand follows another one of its lap. */
  boolean isLaterTrack() {
    return tracks > 1;
  }

  void paused(long ms) {
    pausesMs += Math.max(0, ms);
  }

  void timer(double seconds) {
    timerS = seconds;
  }

  void distance(double metres) {
    distanceM = metres;
  }

  void close() {
    Optional<Instant> at =
        start == Track.NO_TIME ? Optional.empty() : Optional.of(Instant.ofEpochMilli(start));
    laps.add(new ClaimedLap(at, Optional.empty(), optional(distanceM), optional(timerS)));
  }

  private static OptionalDouble optional(double value) {
    return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  List<ClaimedLap> all() {
    return laps;
  }

  /** Their distances together, where every lap has one. */
  OptionalDouble totalM() {
    if (laps.isEmpty() || laps.stream().anyMatch(l -> l.distanceM().isEmpty()))
      return OptionalDouble.empty();
    return OptionalDouble.of(laps.stream().mapToDouble(l -> l.distanceM().getAsDouble()).sum());
  }
}
