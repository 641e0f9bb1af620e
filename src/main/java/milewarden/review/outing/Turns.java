package milewarden.review.outing;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import milewarden.track.TagName;

/**
 * Gives every unit its turn: at each place on the arm or strap, and at being started first. Else
 * what a place or a later start does would look like a unit's own error (common practice, no
 * source).
 */
final class Turns {
  private Turns() {}

  /**
   * Moves each unit on to the place of the next among those that are worn alike. Nothing moves
   * where a place is not named, or named twice.
   *
   * @param rows one per unit of a pass, with the place that each had last; changed
   */
  static void places(List<Map<TagName, String>> rows) {
    Map<String, List<Map<TagName, String>>> alike = new LinkedHashMap<>();
    for (Map<TagName, String> row : rows)
      alike
          .computeIfAbsent(row.getOrDefault(TagName.CARRIAGE, ""), c -> new ArrayList<>())
          .add(row);
    for (List<Map<TagName, String>> group : alike.values()) {
      List<String> places = group.stream().map(r -> r.getOrDefault(TagName.SLOT, "")).toList();
      boolean named = !places.contains("") && new HashSet<>(places).size() == places.size();
      if (!named) continue;
      for (int i = 0; i < group.size(); i++)
        group.get(i).put(TagName.SLOT, places.get((i + 1) % places.size()));
    }
  }

  /**
   * The order in which the units of a pass are started: by lot, but the same at every look at the
   * sheet, as session and pass draw it.
   *
   * @param units in an order of their own
   */
  static List<String> order(String session, String pass, List<String> units) {
    List<String> order = new ArrayList<>(units);
    Collections.shuffle(order, new Random((session + "\n" + pass).hashCode()));
    return order;
  }
}
