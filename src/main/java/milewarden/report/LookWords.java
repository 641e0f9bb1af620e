package milewarden.report;

import java.time.Instant;
import milewarden.verdict.Comparison;

/** What is said of a look that waits for its sessions to be whole. */
public final class LookWords {
  private LookWords() {}

  /** Why the look that has its sessions is not taken yet, and when it is. */
  public static String waits(Comparison c, Digits digits) {
    boolean next = c.nextLookAt().isPresent() && c.candidateSessions() >= c.nextLookAt().getAsInt();
    String which =
        next
            ? "The look at " + digits.sessions(c.nextLookAt().getAsInt()) + " of " + c.candidate()
            : "A look at " + c.candidate() + " whose evidence changed";
    Instant until = c.lookWaitsUntil().orElseThrow();
    return which
        + " waits until nothing of its sessions has come in for a while, by what is here now until "
        + digits.moment(until)
        + "; until then the state holds.";
  }
}
