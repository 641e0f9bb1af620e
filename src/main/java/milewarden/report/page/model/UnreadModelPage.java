package milewarden.report.page.model;

import java.util.List;
import milewarden.report.DamageWords;
import milewarden.report.page.DueEntry;

/**
 * The page of a model whose judgement can't be read: what is known without it.
 *
 * @param outings newest first
 */
public record UnreadModelPage(
    String name,
    String sentence,
    List<Outing> outings,
    List<DueEntry> due,
    List<ModelPage.VerdictLine> verdicts) {
  public UnreadModelPage {
    outings = List.copyOf(outings);
    due = List.copyOf(due);
    verdicts = List.copyOf(verdicts);
  }

  /**
   * An outing in which the model was carried.
   *
   * @param link to the page that has its distances and errors
   */
  public record Outing(String session, String link, String date, String firmware, String units) {}

  public static UnreadModelPage of(
      String name, List<Outing> outings, List<DueEntry> due, List<ModelPage.VerdictLine> verdicts) {
    return new UnreadModelPage(name, DamageWords.judgement(), outings, due, verdicts);
  }
}
