package milewarden.review.outing;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;

final class TurnsTest {
  private static Map<TagName, String> row(String unit, String carriage, String slot) {
    Map<TagName, String> row = new EnumMap<>(TagName.class);
    row.put(TagName.UNIT, unit);
    row.put(TagName.CARRIAGE, carriage);
    if (!slot.isEmpty()) row.put(TagName.SLOT, slot);
    return row;
  }

  private static List<String> slots(List<Map<TagName, String>> rows) {
    return rows.stream().map(r -> r.getOrDefault(TagName.SLOT, "")).toList();
  }

  /** A cyclic Latin square (Fisher 1935, chapter 5): after n sessions each unit was everywhere. */
  @Test
  void afterAsManySessionsAsPlacesEveryUnitWasOnceAtEach() {
    List<Map<TagName, String>> rows =
        new ArrayList<>(
            List.of(
                row("A", "fixed", "upper"),
                row("B", "fixed", "middle"),
                row("C", "fixed", "lower")));
    Map<String, Set<String>> been = new HashMap<>();
    for (int session = 0; session < 3; session++) {
      assertThat(new HashSet<>(slots(rows))).hasSize(3);
      for (Map<TagName, String> r : rows)
        been.computeIfAbsent(r.get(TagName.UNIT), u -> new HashSet<>()).add(r.get(TagName.SLOT));
      Turns.places(rows);
    }
    assertThat(been.values()).allSatisfy(s -> assertThat(s).hasSize(3));
  }

  @Test
  void whatIsWornOtherwiseKeepsItsPlaceAndNothingMovesWithoutNames() {
    List<Map<TagName, String>> rows =
        new ArrayList<>(
            List.of(
                row("A", "swing-left", "upper"),
                row("B", "swing-right", "lower"),
                row("C", "fixed", ""),
                row("D", "fixed", "strap")));
    Turns.places(rows);
    assertThat(slots(rows)).containsExactly("upper", "lower", "", "strap");
  }

  @Test
  void theOrderOfStartingIsALotThatStaysTheSameForItsPass() {
    List<String> units = List.of("A", "B", "C", "D");
    Map<String, Integer> first = new HashMap<>();
    for (int session = 0; session < 4000; session++) {
      List<String> order = Turns.order("S" + session, "1", units);
      assertThat(order).containsExactlyInAnyOrderElementsOf(units);
      assertThat(Turns.order("S" + session, "1", units)).isEqualTo(order);
      first.merge(order.get(0), 1, Integer::sum);
    }
    // Binomial with n = 4000 and p = 1/4: mean 1000, sd 27.4; five of them on either side.
    assertThat(first.values()).hasSize(4).allSatisfy(n -> assertThat(n).isBetween(863, 1137));
  }
}
