package milewarden.verdict.due;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import milewarden.verdict.DueItem;

/**
 * All that is due of one model: one item per cause, each with a key that stays while the cause
 * does. What a judgement no longer holds has lost its cause and is closed by whoever keeps the
 * list.
 */
public final class DueList {
  private DueList() {}

  /** Most pressing first: wrong in public, regression, stale, housekeeping. */
  public static List<DueItem> of(Known known) {
    Advising advising = new Advising(known);
    List<DueItem> found = new ArrayList<>();
    found.addAll(new ReleaseCauses(known, advising).find());
    found.addAll(new VerdictCauses(known, advising).find());
    Set<String> keys = new HashSet<>();
    found.removeIf(item -> !keys.add(item.key()));
    found.sort(Comparator.comparing(DueItem::severity).thenComparing(DueItem::key));
    return List.copyOf(found);
  }
}
