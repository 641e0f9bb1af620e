package milewarden.report.page.outing;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import milewarden.report.Digits;
import milewarden.verdict.headtohead.HeadToHead;

/**
 * All sessions of models that are held against each other, a part at a time.
 *
 * @param link to what they tell
 * @param models as columns
 * @param outings newest first
 * @param newer where the part before is; empty text at the beginning
 * @param older where the next part is; empty text at the end
 */
public record HeadToHeadSessionsPage(
    String link,
    String sentence,
    List<String> models,
    List<HeadToHeadChart.Outing> outings,
    String newer,
    String older) {
  public HeadToHeadSessionsPage {
    models = List.copyOf(models);
    outings = List.copyOf(outings);
  }

  /**
   * The page.
   *
   * @param link to what the sessions tell
   * @param here address of this list, to which the place in it is added
   * @param from which session is the first; 0 is the newest
   * @param most sessions on it
   */
  public static HeadToHeadSessionsPage of(
      HeadToHead head, String link, String here, int from, int most, Digits digits) {
    List<String> all = new ArrayList<>(HeadToHeadChart.sessions(head));
    Collections.reverse(all);
    int first = Math.min(Math.max(0, from), all.size());
    int end = first + Math.min(most, all.size() - first);
    String at = here + (here.indexOf('?') < 0 ? "?" : "&") + "from=";
    return new HeadToHeadSessionsPage(
        link,
        digits.sessions(all.size()) + " in the common conditions, the newest first",
        head.sides().stream().map(s -> s.release().name()).toList(),
        HeadToHeadChart.outings(head, all.subList(first, end), digits),
        first > 0 ? at + Math.max(0, first - most) : "",
        end < all.size() ? at + end : "");
  }
}
