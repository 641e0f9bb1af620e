package milewarden.web.door;

import java.time.Duration;

/**
 * How people come in.
 *
 * @param longest a visit may last
 * @param idle after so long without a request it is over
 */
public record DoorSettings(Duration longest, Duration idle) {
  // OWASP Session Management Cheat Sheet: an idle and an absolute time-out; how long, it leaves to
  // the use. A tester's day outdoors, and a longer break. Common practice, no source.
  public static final DoorSettings DEFAULTS =
      new DoorSettings(Duration.ofHours(12), Duration.ofHours(2));
}
