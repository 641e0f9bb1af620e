package milewarden.track;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A lap as the device counted it: its own claim, never believed for the count of laps walked.
 *
 * @param from when it began, where the file says so
 * @param to when it ended
 * @param distanceM the device's own distance of it, metres, not negative
 * @param timerS the time that its timer ran, seconds, not negative
 */
public record ClaimedLap(
    Optional<Instant> from, Optional<Instant> to, OptionalDouble distanceM, OptionalDouble timerS) {
  public ClaimedLap {
    if (distanceM.isPresent() && !(distanceM.getAsDouble() >= 0))
      throw new IllegalArgumentException("distance: " + distanceM);
    if (timerS.isPresent() && !(timerS.getAsDouble() >= 0))
      throw new IllegalArgumentException("timer: " + timerS);
  }

  ClaimedLap movedBy(Duration by) {
    return new ClaimedLap(from.map(t -> t.plus(by)), to.map(t -> t.plus(by)), distanceM, timerS);
  }
}
