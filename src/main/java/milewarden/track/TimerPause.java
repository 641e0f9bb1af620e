package milewarden.track;

import java.time.Instant;

/**
 * A stretch in which the device's timer stood, by its own events.
 *
 * @param from when it was stopped
 * @param to when it went on; not before {@code from}
 */
public record TimerPause(Instant from, Instant to) {
  public TimerPause {
    if (to.isBefore(from)) throw new IllegalArgumentException(from + " to " + to);
  }
}
