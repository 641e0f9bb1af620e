package milewarden.accuracy.reference;

import java.time.Instant;

/**
 * By how much a fix lies beside where the reference track was at its time.
 *
 * @param eastM east positive, metres
 * @param northM north positive, metres
 */
public record Epoch(Instant at, double eastM, double northM) {
  /** The horizontal error, not negative. */
  public double horizontalM() {
    return Math.hypot(eastM, northM);
  }
}
