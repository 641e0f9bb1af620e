package milewarden.verdict.due;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.verdict.Campaign;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem.NextRun;
import milewarden.verdict.DueItem.Outing;
import milewarden.verdict.PassEvidence;
import org.junit.jupiter.api.Test;

/** The properties by which Fisher (1935) defines the square, checked by counting. */
final class LatinSquareTest {
  private static List<Condition> carriages(int n) {
    return IntStream.range(0, n)
        .mapToObj(i -> Campaign.condition("loop", "v1", Carriage.values()[i]))
        .toList();
  }

  private static List<String> units(int n) {
    return IntStream.range(0, n).mapToObj(i -> "unit-" + i).toList();
  }

  @Test
  void everyCarriageStandsOnceInEachRowAndEachColumn() {
    for (int n = 1; n <= 5; n++) {
      LatinSquare square = new LatinSquare(units(n), carriages(n));
      for (int a = 0; a < n; a++) {
        Set<Condition> row = new HashSet<>();
        Set<Condition> column = new HashSet<>();
        for (int b = 0; b < n; b++) {
          row.add(square.cell(a, b));
          column.add(square.cell(b, a));
        }
        assertThat(row).hasSize(n);
        assertThat(column).hasSize(n);
      }
    }
  }

  /** Follows the advice session by session, both directions each, and gives the passes. */
  private static List<PassEvidence> follow(
      LatinSquare square, List<PassEvidence> so, int sessions, int firstDay) {
    Campaign c = new Campaign();
    c.passes.addAll(so);
    for (int day = firstDay; day < firstDay + sessions; day++) {
      Outing next = square.next(c.passes);
      for (NextRun run : next.runs()) {
        c.track("1.0", day, run.condition(), run.unit(), next.first(), 0);
        c.track("1.0", day, run.condition(), run.unit(), other(next.first()), 0);
      }
    }
    return c.passes;
  }

  private static Direction other(Direction d) {
    return d == Direction.FORWARD ? Direction.REVERSE : Direction.FORWARD;
  }

  private static Map<String, Integer> held(List<PassEvidence> passes) {
    Map<String, Integer> counts = new HashMap<>();
    Set<List<Object>> seen = new HashSet<>();
    for (PassEvidence p : passes)
      if (seen.add(List.of(p.session(), p.unit(), p.condition())))
        counts.merge(p.unit() + p.condition().carriage(), 1, Integer::sum);
    return counts;
  }

  @Test
  void afterAFullSquareEveryUnitWasWornInEveryWayEquallyOften() {
    for (int units = 1; units <= 4; units++)
      for (int ways = 1; ways <= 4; ways++) {
        LatinSquare square = new LatinSquare(units(units), carriages(ways));
        Map<String, Integer> counts = held(follow(square, List.of(), 3 * ways, 0));
        assertThat(counts).hasSize(units * ways);
        assertThat(counts.values()).containsOnly(3);
      }
  }

  @Test
  void aLopsidedStartIsMadeGood() {
    LatinSquare square = new LatinSquare(units(2), carriages(2));
    Campaign lopsided = new Campaign();
    for (int day = 0; day < 4; day++)
      for (int u = 0; u < 2; u++)
        lopsided.track("1.0", day, square.cell(0, u), "unit-" + u, Direction.FORWARD, 0);
    Map<String, Integer> counts = held(follow(square, lopsided.passes, 4, 100));
    assertThat(counts.values()).containsOnly(4);
  }

  @Test
  void theFirstDirectionTakesTurnsSoThatADriftFallsOnBothAlike() {
    LatinSquare square = new LatinSquare(units(1), carriages(1));
    List<PassEvidence> passes = follow(square, List.of(), 8, 0);
    List<Direction> first = new ArrayList<>();
    for (int i = 0; i < passes.size(); i += 2) first.add(passes.get(i).direction());
    // A linear drift over the sessions: its sum over those begun forward equals the other's.
    int drift = 0;
    for (int i = 0; i < 8; i++) drift += first.get(i) == Direction.FORWARD ? i : -i;
    assertThat(drift).isZero();
  }
}
