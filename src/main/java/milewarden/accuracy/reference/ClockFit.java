package milewarden.accuracy.reference;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.track.Track;

/**
 * Would a recording fit its reference track far better on another clock? Receivers keep satellite
 * time, which differs from UTC by whole leap seconds, and some forget to take them off.
 */
final class ClockFit {
  // Leap seconds since 1980 were 18 in 2017 (IERS Bulletin C 52); a little beyond either way.
  private static final int WIDEST_S = 30;
  // Below this a difference is as well a filter that lags: part of the device's own error.
  private static final double SMALLEST_S = 2;
  // As it stands the error must be this many times what it would be: common practice, no source.
  private static final double FAR_BETTER = 2;
  private static final int MOST_FIXES = 300;
  private static final int FEWEST_FIXES = 20;

  private final ReferenceTrack reference;
  private final Track recording;
  private final int every;

  ClockFit(ReferenceTrack reference, Track recording) {
    this.reference = reference;
    this.recording = recording;
    every = Math.max(1, recording.size() / MOST_FIXES);
  }

  /** Seconds to add to the recording's times, to the second; empty where it fits as it stands. */
  OptionalDouble differenceS() {
    double now = rmse(0);
    double best = Double.POSITIVE_INFINITY;
    int at = 0;
    for (int s = -WIDEST_S; s <= WIDEST_S; s++) {
      double there = rmse(s);
      if (there < best) {
        best = there;
        at = s;
      }
    }
    // Where nothing can be compared as it stands there is nothing to be better than.
    boolean shifted = Math.abs(at) >= SMALLEST_S && now > FAR_BETTER * best;
    return shifted && now < Double.POSITIVE_INFINITY
        ? OptionalDouble.of(at)
        : OptionalDouble.empty();
  }

  /** Infinite where too few fixes can be compared. */
  private double rmse(int seconds) {
    double sum = 0;
    int n = 0;
    for (int i = 0; i < recording.size(); i += every) {
      Optional<Epoch> e = reference.error(recording, i, seconds * 1000L);
      if (e.isEmpty()) continue;
      double size = e.get().horizontalM();
      sum += size * size;
      n++;
    }
    return n < FEWEST_FIXES ? Double.POSITIVE_INFINITY : Math.sqrt(sum / n);
  }
}
