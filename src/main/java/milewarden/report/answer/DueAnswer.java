package milewarden.report.answer;

import java.time.Instant;
import java.util.List;
import milewarden.report.AdviceWords;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.verdict.DueItem;

/**
 * A due item for programs: {@code due --json} and the API.
 *
 * @param kind {@code retest-due} or {@code verdict-update-due}
 * @param severity {@code verdict-wrong}, {@code regression}, {@code stale} or {@code housekeeping}
 * @param because the sentence with its numbers
 * @param advice what to do next
 * @param evidence ids of results
 */
public record DueAnswer(
    String id,
    String kind,
    String severity,
    String model,
    String firmware,
    String because,
    String advice,
    List<String> evidence,
    Instant raisedAt) {
  public DueAnswer {
    evidence = List.copyOf(evidence);
  }

  /**
   * An item that stands open in the store under this id.
   *
   * @param whole false where its record is damaged, which is said in the place of the advice
   */
  public static DueAnswer of(
      long id, DueItem item, Instant raisedAt, boolean whole, Digits digits) {
    return new DueAnswer(
        Long.toString(id),
        item.kind().code(),
        item.severity().code(),
        item.model(),
        item.firmware(),
        plain(DueWords.sentence(item, digits)),
        whole ? plain(String.join(" ", AdviceWords.of(item, digits))) : DamageWords.due(true),
        item.evidence().stream().map(String::valueOf).toList(),
        raisedAt);
  }

  /** Programs search and compare: no spaces that only look like one. */
  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }
}
