package milewarden.verdict;

import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * When what belongs to each session came in. A session is whole when nothing more of it is to be
 * expected: only then may a look rest on it. Half a session is another figure than the whole, and a
 * look that is tried on every part of it calls a change too often.
 *
 * @param last when the newest run of each session came in; one that isn't named came long ago
 * @param complete sessions of whose planned rows none is outstanding
 * @param measuring true while recordings that came in wait to be measured
 */
public record Arrivals(Map<String, Instant> last, Set<String> complete, boolean measuring) {
  /** Where all came in long ago. */
  public static final Arrivals LONG_AGO = new Arrivals(Map.of(), Set.of(), false);

  public Arrivals {
    last = Map.copyOf(last);
    complete = Set.copyOf(complete);
  }

  /**
   * Until when a look at these sessions waits; empty where all are whole. A session is whole when
   * its planned rows have all come, when another outing began after its newest run came in, or when
   * nothing of it came for as long as {@code quiet}.
   *
   * @param begun the start of the latest outing
   * @return {@code now} where it waits only for what is in to be measured
   */
  public Optional<Instant> waitFor(
      Collection<SessionFigure> sessions, Duration quiet, Instant begun, Instant now) {
    return sessions.stream()
        .map(SessionFigure::session)
        .distinct()
        .flatMap(s -> wholeAt(s, quiet, begun, now).stream())
        .max(Instant::compareTo);
  }

  private Optional<Instant> wholeAt(String session, Duration quiet, Instant begun, Instant now) {
    Instant came = last.get(session);
    // Came later than now: by a clock that ran ahead, and that says nothing.
    if (came == null || begun.isAfter(came) || came.isAfter(now)) return Optional.empty();
    Instant whole = came.plus(quiet);
    if (!whole.isAfter(now)) return Optional.empty();
    if (!complete.contains(session)) return Optional.of(whole);
    return measuring ? Optional.of(now) : Optional.empty();
  }
}
