package milewarden.report;

import java.time.Instant;
import java.util.Optional;

/** Words on who was told, who has seen it, and when it comes again. */
public final class AlertWords {
  private AlertWords() {}

  /** Whether an open item was seen or put off, in a word. */
  public static Status state(boolean seen, Optional<Instant> snoozedUntil) {
    if (snoozedUntil.isPresent()) return Status.unknown("put off");
    return seen ? Status.holds("acknowledged") : Status.watch("not acknowledged");
  }

  /** By whom and until when; empty text where nobody did anything. */
  public static String handled(
      Optional<Instant> seenAt, Optional<String> seenBy, Optional<Instant> until, Digits digits) {
    String seen =
        seenAt
            .map(at -> "Acknowledged by " + seenBy.orElse("") + ", " + digits.moment(at) + ". ")
            .orElse("");
    String off =
        until.map(u -> "Told again on " + digits.moment(u) + ", if still open.").orElse("");
    return (seen + off).strip();
  }

  /** When a queued message leaves. */
  public static String waits(
      Instant nextTry, boolean tried, Optional<Instant> quietUntil, Instant now, Digits digits) {
    if (quietUntil.isPresent() && !quietUntil.get().isBefore(nextTry))
      return "Waits for the end of the receiver's quiet hours, " + digits.moment(nextTry) + ".";
    if (!nextTry.isAfter(now)) return "Leaves at once.";
    return (tried ? "Next try " : "Leaves ") + digits.moment(nextTry) + ".";
  }
}
