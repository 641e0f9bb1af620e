package milewarden.report.page;

import java.util.List;
import milewarden.report.Status;

/**
 * Something to do, with its reason and advice.
 *
 * @param id of the stored item; for the form that closes it
 * @param evidence links to the results that it rests on, words first
 * @param closed how it was closed; empty text while open
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
    String closed) {
  public DueEntry {
    evidence = List.copyOf(evidence);
  }

  /** A result that the item rests on. */
  public record Evidence(String words, String link) {}
}
