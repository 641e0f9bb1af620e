package milewarden.report.page.model;

import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.SpreadWords;
import milewarden.statistics.SpreadPower;
import milewarden.verdict.Comparison;

/** What is said of a comparison in a line or two. */
final class ComparisonWords {
  private ComparisonWords() {}

  /** Lines for a mark: which two, the outcome and why, the change, the next look. */
  static String shortly(Comparison c, Digits digits) {
    String head =
        c.candidate() + " against " + c.baseline() + ": " + JudgedWords.of(c.outcome()).word();
    String spread = SpreadWords.of(c, digits).map(s -> "\n" + s).orElse("");
    return head
        + spread
        + "\n"
        + change(c, digits)
        + "\n"
        + JudgedWords.of(c.because())
        + "\n"
        + look(c);
  }

  static String change(Comparison c, Digits digits) {
    return c.estimate()
        .map(
            e ->
                digits.points(e.percent())
                    + " ("
                    + digits.pointsInterval(e.interval().low(), e.interval().high())
                    + ")")
        .orElse("no difference known yet");
  }

  static String look(Comparison c) {
    String sessions = c.candidateSessions() + " against " + c.baselineSessions() + " sessions";
    return c.nextLookAt().isPresent()
        ? sessions + ", next look at " + c.nextLookAt().getAsInt()
        : sessions;
  }

  /** How often the test of spread would find one that is larger, at these sessions. */
  static String spreadFound(Comparison.Sides sides, double alpha, Digits digits) {
    int after = sides.candidate().sessions();
    int before = sides.baseline().sessions();
    if (after < 2 || before < 2) return "";
    return "; of a spread twice as large it finds "
        + share(SpreadPower.of(after, before, 2, alpha), digits)
        + " at these sessions, of one three times as large "
        + share(SpreadPower.of(after, before, 3, alpha), digits)
        + ": finding nothing does not say that the spread is unchanged";
  }

  private static String share(double share, Digits digits) {
    return digits.number(100 * share, 0) + "\u00a0%";
  }
}
