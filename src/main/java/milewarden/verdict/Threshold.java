package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.units.PercentRange;

/**
 * The limit on the size of a release's mean error, with hysteresis: raised when the interval lies
 * wholly beyond the limit, cleared when wholly inside, otherwise held.
 *
 * @param purpose code of the purpose whose limit it is
 * @param interval the last one that was judged; empty before the first
 * @param transitions in order of sessions; the first is no flip
 */
public record Threshold(
    State state,
    String purpose,
    double limitPercent,
    Source.Choice source,
    Optional<PercentRange> interval,
    List<Transition> transitions) {
  public Threshold {
    transitions = List.copyOf(transitions);
  }

  /** Where the threshold stands. */
  public enum State {
    UNDETERMINED,
    RAISED,
    CLEARED
  }

  /** The session at which the state changed. */
  public record Transition(String session, Instant at, State to, PercentRange interval) {}

  /** Changes after the first. */
  public int flips() {
    return Math.max(0, transitions.size() - 1);
  }
}
