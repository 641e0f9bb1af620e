package milewarden.verdict;

import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * When what belongs to each session came in. A session is whole when nothing more of it is to be
 * expected: only then may a look, the threshold or a decision for a purpose rest on it. Half a
 * session is another figure than the whole, and what is tried on every part of it calls a change
 * too often.
 *
 * @param last when the newest run of each session came in; one that isn't named came long ago
 * @param complete sessions of whose planned rows none is outstanding
 * @param measuring true while recordings that came in wait to be measured
 * @param each every run of these sessions, in any order; empty where only the last is known
 */
public record Arrivals(
    Map<String, Instant> last,
    Set<String> complete,
    boolean measuring,
    Map<String, List<Came>> each) {
  /** Where all came in long ago. */
  public static final Arrivals LONG_AGO = new Arrivals(Map.of(), Set.of(), false);

  public Arrivals {
    last = Map.copyOf(last);
    complete = Set.copyOf(complete);
    each = Map.copyOf(each);
  }

  /** Where it is not known which run of a session came when. */
  public Arrivals(Map<String, Instant> last, Set<String> complete, boolean measuring) {
    this(last, complete, measuring, Map.of());
  }

  /** One run: when it came in, and its results. */
  public record Came(Instant at, List<Long> results) {
    public Came {
      results = List.copyOf(results);
    }
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

  /** When the session will be whole; empty where it is. */
  public Optional<Instant> wholeAt(String session, Duration quiet, Instant begun, Instant now) {
    Instant came = last.get(session);
    // Came later than now: by a clock that ran ahead, and that says nothing.
    if (came == null || begun.isAfter(came) || came.isAfter(now)) return Optional.empty();
    Instant whole = came.plus(quiet);
    if (!whole.isAfter(now)) return Optional.empty();
    if (!complete.contains(session)) return Optional.of(whole);
    return measuring ? Optional.of(now) : Optional.empty();
  }

  /**
   * What of a session that isn't whole was there when it last was: a run that comes late takes back
   * nothing that was said of those before it.
   *
   * @return its results; empty where it never was whole
   */
  public Set<Long> whenLastWhole(String session, Duration quiet, Instant begun) {
    List<Came> runs =
        each.getOrDefault(session, List.of()).stream()
            .sorted(Comparator.comparing(Came::at))
            .toList();
    Set<Long> found = new HashSet<>();
    for (int i = runs.size() - 1; i > 0; i--) {
      Instant before = runs.get(i - 1).at();
      Instant next = runs.get(i).at();
      boolean whole =
          !next.isBefore(before.plus(quiet)) || (begun.isAfter(before) && !begun.isAfter(next));
      if (!whole) continue;
      for (Came c : runs.subList(0, i)) found.addAll(c.results());
      break;
    }
    return found;
  }
}
