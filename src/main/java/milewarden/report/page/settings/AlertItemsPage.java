package milewarden.report.page.settings;

import java.time.LocalDate;
import java.util.List;
import milewarden.report.Digits;

/**
 * Some due items with the forms that acknowledge them or put them off.
 *
 * @param items their numbers, for the forms
 * @param refusal why what was sent is not taken; empty text where nothing was wrong
 * @param earliest the first day to put off to
 * @param usual the day that is proposed
 */
public record AlertItemsPage(
    String sentence,
    String items,
    List<AlertsPage.Item> open,
    String refusal,
    String earliest,
    String usual) {
  // A week: common practice, no source.
  private static final int USUAL_DAYS = 7;

  public AlertItemsPage {
    open = List.copyOf(open);
  }

  /** The page of these items, those of them that are open. */
  public static AlertItemsPage of(
      String items, List<AlertsPage.Item> open, String refusal, LocalDate today, Digits digits) {
    String sentence =
        open.isEmpty()
            ? "None of these is open any more: nothing is left to do."
            : "Acknowledge "
                + (open.size() == 1 ? "it" : "these " + digits.count(open.size()))
                + ", or put "
                + (open.size() == 1 ? "it" : "them")
                + " off.";
    return new AlertItemsPage(
        sentence,
        items,
        open,
        refusal,
        today.plusDays(1).toString(),
        today.plusDays(USUAL_DAYS).toString());
  }
}
