package milewarden.verdict.due;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import milewarden.course.Direction;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem.NextRun;
import milewarden.verdict.DueItem.Outing;
import milewarden.verdict.PassEvidence;

/**
 * Which unit is worn how in the next session, so that after a full square every unit was worn in
 * every way equally often, and no unit's error hides in a carriage's.
 *
 * <p>The cyclic square: in row r, unit u takes carriage (r + u) mod n. Where there are more units
 * than carriages some share one; where there are fewer, the square is a rectangle (Youden 1937).
 *
 * @param units in order
 * @param carriages conditions that one outing can hold, in order; not empty
 * @see "Fisher (1935), The Design of Experiments, chapter 5"
 */
record LatinSquare(List<String> units, List<Condition> carriages) {
  LatinSquare {
    units = List.copyOf(units);
    carriages = List.copyOf(carriages);
    if (units.isEmpty() || carriages.isEmpty()) throw new IllegalArgumentException("empty square");
  }

  /** The condition of a cell. */
  Condition cell(int row, int unit) {
    return carriages.get((row + unit) % carriages.size());
  }

  /**
   * The row that is missing most, given the passes so far, in any order; its runs with the one
   * missing most first. Between equals the earliest row, so that an empty history begins with row 0
   * and goes on row by row.
   */
  Outing next(List<PassEvidence> passes) {
    int best = 0;
    long least = Long.MAX_VALUE;
    for (int row = 0; row < carriages.size(); row++) {
      long held = 0;
      for (int u = 0; u < units.size(); u++) held += sessions(passes, units.get(u), cell(row, u));
      if (held < least) {
        least = held;
        best = row;
      }
    }
    Direction first = first(passes);
    List<NextRun> runs = new ArrayList<>();
    for (int u = 0; u < units.size(); u++)
      runs.add(new NextRun(cell(best, u), units.get(u), first));
    runs.sort(Comparator.comparingLong(r -> sessions(passes, r.unit(), r.condition())));
    return new Outing(first, runs);
  }

  private static long sessions(List<PassEvidence> passes, String unit, Condition condition) {
    return passes.stream()
        .filter(p -> p.unit().equals(unit) && p.condition().equals(condition))
        .map(PassEvidence::session)
        .distinct()
        .count();
  }

  /**
   * The direction with fewer passes; where both have as many, by turns ABBA over the sessions, so
   * that a drift over the days falls on both alike (common practice, no source).
   */
  private static Direction first(List<PassEvidence> passes) {
    long forward = passes.stream().filter(p -> p.direction() == Direction.FORWARD).count();
    long back = passes.size() - forward;
    if (forward != back) return forward < back ? Direction.FORWARD : Direction.REVERSE;
    Set<String> sessions = new TreeSet<>(passes.stream().map(PassEvidence::session).toList());
    int turn = sessions.size() % 4;
    return turn == 0 || turn == 3 ? Direction.FORWARD : Direction.REVERSE;
  }
}
