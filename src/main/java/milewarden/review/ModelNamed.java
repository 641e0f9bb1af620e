package milewarden.review;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.store.Tx;
import milewarden.store.run.Models;

/**
 * The model that somebody named.
 *
 * @param model empty where none or more than one is meant
 * @param near names of those that may be meant, the nearest first
 */
public record ModelNamed(String text, Optional<Models.Model> model, List<String> near) {
  private static final int MOST = 3;

  public ModelNamed {
    near = List.copyOf(near);
  }

  /** By the whole name, in any case. */
  public static ModelNamed whole(Tx tx, String text) {
    return of(tx, text, Models.find(tx, text));
  }

  /** By the whole name, or by a beginning that no other model shares; in any case. */
  public static ModelNamed beginning(Tx tx, String text) {
    List<Models.Model> begin = beginning(Models.all(tx), text);
    return of(
        tx,
        text,
        Models.find(tx, text)
            .or(() -> begin.size() == 1 ? Optional.of(begin.get(0)) : Optional.empty()));
  }

  private static ModelNamed of(Tx tx, String text, Optional<Models.Model> found) {
    if (found.isPresent()) return new ModelNamed(text, found, List.of());
    List<Models.Model> all = Models.all(tx);
    List<Models.Model> begin = beginning(all, text);
    return new ModelNamed(
        text,
        Optional.empty(),
        (begin.isEmpty() ? all : begin)
            .stream()
                .map(Models.Model::name)
                .sorted(Comparator.comparingInt(name -> edits(lower(text), lower(name))))
                .limit(MOST)
                .toList());
  }

  private static List<Models.Model> beginning(List<Models.Model> all, String text) {
    String start = lower(text);
    if (start.isEmpty()) return List.of();
    return all.stream().filter(m -> lower(m.name()).startsWith(start)).toList();
  }

  private static String lower(String text) {
    return text.strip().toLowerCase(Locale.ROOT);
  }

  /** Signs put in, left out or changed (Levenshtein 1966). */
  private static int edits(String a, String b) {
    int[] row = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) row[j] = j;
    for (int i = 1; i <= a.length(); i++) {
      int corner = row[0];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int changed = corner + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        corner = row[j];
        row[j] = Math.min(changed, 1 + Math.min(row[j], row[j - 1]));
      }
    }
    return row[b.length()];
  }

  /** Where no model is meant: what was wrong, and which there are. */
  public String sentence() {
    if (near.isEmpty()) return "there is no model named " + text + ", nor any other yet";
    return "there is no model named " + text + "; the nearest are: " + String.join(", ", near);
  }
}
