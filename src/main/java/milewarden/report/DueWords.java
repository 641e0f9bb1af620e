package milewarden.report;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import milewarden.units.PercentRange;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.DecisionChange;
import milewarden.verdict.DueItem.Facts;
import milewarden.verdict.SmoothingChange;

/** What is due, in words: a title, and the sentence with its numbers. */
public final class DueWords {
  private DueWords() {}

  /**
   * Model, firmware, what changed, by how much, on how many sessions, without a full stop: {@code
   * Fell 2 firmware 2.1.0 is worse than 2.0.0: +1.3 points on 6 sessions}.
   */
  public static String title(DueItem item, Digits digits) {
    Facts facts = item.facts();
    String release = item.model() + " firmware " + item.firmware();
    String other = facts.otherFirmware().orElse("the release before");
    return switch (item.cause()) {
      case NEWER_FIRMWARE -> release + " is not tested yet";
      case COMPARISON_NOT_SETTLED ->
          incomparable(facts)
              ? release + " can't be held against " + other + " yet"
              : release
                  + " against "
                  + other
                  + " is not settled"
                  + onSessions(facts, digits, " after ");
      case VERDICT_OLD -> "the verdict on " + release + " is old" + since(facts, digits);
      case SUSPECT_RUN -> "one run of " + release + " is far off" + byHowMuch(facts, digits, false);
      case COURSE_REMEASURED -> course(facts) + " was measured anew: look at " + release;
      case ENGINE_MOVED_RESULTS -> "a new method moved the results of " + release;
      case DECISION_CHANGED -> release + ": " + changes(facts.purposes());
      case COMPARISON_WORSE -> release + " is worse than " + other + changed(facts, digits);
      case COMPARISON_BETTER -> release + " is better than " + other + changed(facts, digits);
      case COMPARISON_CHANGED ->
          scatters(facts)
              .map(verb -> release + verb + other + spread(facts, digits))
              .orElse(release + " is not the same as " + other + changed(facts, digits));
      case SMOOTHING_CHANGED ->
          release
              + facts
                  .smoothing()
                  .map(s -> " " + SmoothingWords.verb(s) + " " + other + smoothed(s, digits))
                  .orElse(" smooths its positions otherwise than " + other);
      case THRESHOLD_RAISED ->
          release + " is beyond its limit" + limit(facts, digits) + meanOn(facts, digits);
      case THRESHOLD_CLEARED ->
          release + " is back within its limit" + limit(facts, digits) + meanOn(facts, digits);
    };
  }

  /** Why it is due, in one sentence with the numbers. */
  public static String sentence(DueItem item, Digits digits) {
    Facts facts = item.facts();
    String release = "firmware " + item.firmware() + " of " + item.model();
    String other = facts.otherFirmware().map(f -> "firmware " + f).orElse("the release before");
    String text =
        switch (item.cause()) {
          case NEWER_FIRMWARE ->
              release
                  + " is not tested yet"
                  + facts.otherFirmware().map(f -> "; the newest that was is " + f).orElse("");
          case COMPARISON_NOT_SETTLED ->
              release
                  + (incomparable(facts)
                      ? " can't be held against " + other + " yet"
                      : " against "
                          + other
                          + " is not settled"
                          + difference(facts, digits)
                          + onSessions(facts, digits, " on "))
                  + reason(facts);
          case VERDICT_OLD -> "the verdict on " + release + " is old" + since(facts, digits);
          case SUSPECT_RUN ->
              "one run of "
                  + release
                  + " is far off"
                  + byHowMuch(facts, digits, false)
                  + nextRun(facts, digits);
          case COURSE_REMEASURED ->
              course(facts) + " was measured anew, so results of " + release + " moved";
          case ENGINE_MOVED_RESULTS ->
              "a new method moved results of " + release + " on which the verdict rests";
          case DECISION_CHANGED ->
              "the published verdict on "
                  + item.model()
                  + " no longer holds for firmware "
                  + item.firmware()
                  + ": "
                  + changes(facts.purposes());
          case COMPARISON_WORSE, COMPARISON_BETTER, COMPARISON_CHANGED ->
              scatters(facts).isPresent()
                  ? release
                      + scatters(facts).get()
                      + other
                      + spread(facts, digits)
                      + meanToo(facts, digits)
                  : release
                      + verb(item.cause())
                      + other
                      + difference(facts, digits)
                      + onSessions(facts, digits, " on ")
                      + reason(facts);
          case SMOOTHING_CHANGED ->
              release
                  + facts
                      .smoothing()
                      .map(s -> " " + SmoothingWords.verb(s) + " " + other + smoothing(s, digits))
                      .orElse(" smooths its positions otherwise than " + other);
          case THRESHOLD_RAISED, THRESHOLD_CLEARED ->
              release
                  + (item.cause() == DueItem.Cause.THRESHOLD_RAISED
                      ? " is beyond its limit"
                      : " is back within its limit")
                  + limit(facts, digits)
                  + meanOn(facts, digits)
                  + facts.interval().map(r -> " (" + digits.interval(r) + ")").orElse("");
        };
    return Words.capital(text) + source(facts) + ".";
  }

  /** The verb of a change of the spread alone; empty where the mean is what is told. */
  private static Optional<String> scatters(Facts facts) {
    return facts.because().filter(SpreadWords::isWhy).map(b -> " " + SpreadWords.verb(b) + " ");
  }

  private static String spread(Facts facts, Digits digits) {
    return facts.spread().map(s -> ": " + SpreadWords.of(s, digits)).orElse("")
        + onSessions(facts, digits, " on ");
  }

  private static String meanToo(Facts facts, Digits digits) {
    if (facts.percent().isEmpty()) return "";
    return "; the mean error is not shown to have changed: "
        + points(facts, digits)
        + within(facts, digits);
  }

  private static String smoothed(SmoothingChange s, Digits digits) {
    return ": " + SmoothingWords.lags(s, digits);
  }

  private static String smoothing(SmoothingChange s, Digits digits) {
    return ": " + SmoothingWords.figures(s, digits) + "; " + SmoothingWords.distance(s);
  }

  private static String verb(DueItem.Cause cause) {
    return switch (cause) {
      case COMPARISON_WORSE -> " is worse than ";
      case COMPARISON_BETTER -> " is better than ";
      default -> " is not the same as ";
    };
  }

  private static String difference(Facts facts, Digits digits) {
    if (facts.percent().isEmpty()) return "";
    return ": a change of " + points(facts, digits) + within(facts, digits);
  }

  private static String within(Facts facts, Digits digits) {
    Optional<PercentRange> range = facts.interval();
    return range.map(r -> " (95 %: " + digits.pointsInterval(r.low(), r.high()) + ")").orElse("");
  }

  private static String changed(Facts facts, Digits digits) {
    if (facts.percent().isEmpty()) return onSessions(facts, digits, " on ");
    return ": " + points(facts, digits) + onSessions(facts, digits, " on ");
  }

  private static String points(Facts facts, Digits digits) {
    double half = facts.interval().map(r -> (r.high() - r.low()) / 2).orElse(Double.NaN);
    return digits.points(facts.percent().orElseThrow(), Digits.decimalsFor(half));
  }

  private static String meanOn(Facts facts, Digits digits) {
    return byHowMuch(facts, digits, true) + onSessions(facts, digits, " on ");
  }

  private static String byHowMuch(Facts facts, Digits digits, boolean mean) {
    if (facts.percent().isEmpty()) return "";
    double half = facts.interval().map(r -> (r.high() - r.low()) / 2).orElse(Double.NaN);
    int decimals = mean ? Digits.decimalsFor(half) : 1;
    String value = digits.percent(facts.percent().getAsDouble(), decimals);
    return ": " + (mean ? "mean " : "") + value;
  }

  private static String nextRun(Facts facts, Digits digits) {
    return facts.interval().map(r -> ", where a run lies within " + digits.interval(r)).orElse("");
  }

  private static String course(Facts facts) {
    return facts.course().map(c -> "course " + c).orElse("a course");
  }

  private static String limit(Facts facts, Digits digits) {
    return facts.limitPercent().isPresent()
        ? " of " + digits.limit(facts.limitPercent().getAsDouble())
        : "";
  }

  private static String onSessions(Facts facts, Digits digits, String before) {
    return facts.sessions().isPresent()
        ? before + digits.sessions(facts.sessions().getAsInt())
        : "";
  }

  /** Where the two have no session to compare. */
  private static boolean incomparable(Facts facts) {
    return facts.sessions().isPresent() && facts.sessions().getAsInt() == 0;
  }

  private static String since(Facts facts, Digits digits) {
    Optional<LocalDate> date = facts.date();
    return date.map(d -> ", published on " + digits.date(d)).orElse("");
  }

  private static String source(Facts facts) {
    return facts.source().map(s -> "; judged by " + JudgedWords.of(s)).orElse("");
  }

  private static String changes(List<DecisionChange> changes) {
    if (changes.isEmpty()) return "a decision changed";
    return Words.list(
        changes.stream()
            .map(
                c ->
                    JudgedWords.purpose(c.purpose())
                        + " went from "
                        + JudgedWords.of(c.published()).word()
                        + " to "
                        + JudgedWords.of(c.now()).word())
            .toList());
  }

  private static String reason(Facts facts) {
    return facts.because().map(b -> ", because " + JudgedWords.of(b)).orElse("");
  }
}
