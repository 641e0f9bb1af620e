package milewarden.report.page;

import java.util.List;
import milewarden.report.AdviceWords;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.report.Words;
import milewarden.verdict.DueItem;

/**
 * Something to do, with its reason and advice.
 *
 * @param id of the stored item; for the form that closes it
 * @param evidence links to the results that it rests on, words first
 * @param closed how it was closed; empty text while open
 * @param sheetLink the field sheet of the session that it asks for; empty text where it asks for
 *     none
 */
public record DueEntry(
    long id,
    String kind,
    Status severity,
    String subject,
    String subjectLink,
    String sentence,
    String advice,
    String since,
    List<Evidence> evidence,
    String closed,
    String sheetLink) {
  public DueEntry {
    evidence = List.copyOf(evidence);
  }

  // More links than this are a wall; the count says how many there are.
  private static final int MOST_EVIDENCE = 12;

  /** An item of the judge; {@code since} and {@code closed} in words. */
  public static DueEntry of(
      long id, DueItem item, String modelLink, String since, String closed, Digits digits) {
    return new DueEntry(
        id,
        JudgedWords.of(item.kind()),
        JudgedWords.of(item.severity()),
        Words.capital(DueWords.title(item, digits)),
        modelLink,
        DueWords.sentence(item, digits),
        String.join(" ", AdviceWords.of(item, digits)),
        since,
        item.evidence().stream()
            .limit(MOST_EVIDENCE)
            .map(r -> new Evidence("result " + r, Links.result(r)))
            .toList(),
        closed,
        closed.isEmpty() && item.advice().outing().isPresent()
            ? modelLink + "/sheet?item=" + id
            : "");
  }

  /** The same of an item whose record is damaged. */
  public DueEntry unread() {
    return new DueEntry(
        id,
        kind,
        severity,
        subject,
        subjectLink,
        sentence,
        DamageWords.due(closed.isEmpty()),
        since,
        evidence,
        closed,
        sheetLink);
  }

  /** A result that the item rests on. */
  public record Evidence(String words, String link) {}
}
