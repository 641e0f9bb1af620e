package milewarden.report.page.model;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.report.page.DueEntry;
import milewarden.report.page.Links;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;

/**
 * In the place of a page that needs the judgement of a model, which can't be read: what is known
 * without it.
 *
 * @param link to the model's own page; empty text where this is it
 * @param words that were typed and not kept; empty text where none
 * @param compared its comparisons, or the one that was asked for
 * @param outings newest first
 */
public record UnreadModelPage(
    String name,
    String link,
    String heading,
    String sentence,
    String words,
    List<Compared> compared,
    List<Outing> outings,
    List<DueEntry> due,
    List<ModelPage.VerdictLine> verdicts) {
  public UnreadModelPage {
    compared = List.copyOf(compared);
    outings = List.copyOf(outings);
    due = List.copyOf(due);
    verdicts = List.copyOf(verdicts);
  }

  /** The page that was asked for. */
  public enum Asked {
    MODEL("What was judged of this model is damaged."),
    COMPARISON("What was judged of this comparison is damaged."),
    DRAFT("A verdict can't be drafted: what was judged of this model is damaged."),
    PLAN("A campaign can't be planned: what was judged of this model is damaged.");

    private final String heading;

    Asked(String heading) {
      this.heading = heading;
    }

    private String sentence() {
      return switch (this) {
        case MODEL -> DamageWords.judgement();
        case COMPARISON -> DamageWords.comparison();
        case DRAFT -> DamageWords.draft();
        case PLAN -> DamageWords.plan();
      };
    }
  }

  /** What was found of two releases. */
  public record Compared(
      String title,
      String link,
      Status outcome,
      String because,
      String difference,
      String interval,
      String sessions) {
    /**
     * @param percent the difference of the mean errors, candidate minus baseline
     */
    public static Compared of(
        long modelId,
        String candidate,
        String baseline,
        Comparison.Outcome outcome,
        Comparison.Because because,
        OptionalDouble percent,
        Optional<PercentRange> interval,
        int candidateSessions,
        int baselineSessions,
        Digits digits) {
      return new Compared(
          candidate + " against " + baseline,
          Links.comparison(modelId, candidate, baseline),
          JudgedWords.of(outcome),
          JudgedWords.of(because),
          percent.isPresent() ? digits.points(percent.getAsDouble()) : Digits.UNKNOWN,
          interval.map(i -> digits.pointsInterval(i.low(), i.high())).orElse(Digits.UNKNOWN),
          candidateSessions + " against " + baselineSessions);
    }
  }

  /**
   * An outing in which the model was carried.
   *
   * @param link to the page that has its distances and errors
   */
  public record Outing(String session, String link, String date, String firmware, String units) {}

  public static UnreadModelPage of(
      long modelId,
      String name,
      Asked asked,
      String words,
      List<Compared> compared,
      List<Outing> outings,
      List<DueEntry> due,
      List<ModelPage.VerdictLine> verdicts) {
    return new UnreadModelPage(
        name,
        asked == Asked.MODEL ? "" : Links.model(modelId),
        asked.heading,
        asked.sentence(),
        words,
        compared,
        outings,
        due,
        verdicts);
  }
}
