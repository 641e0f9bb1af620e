package milewarden.report.page;

import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.verdict.Comparison;

/** What is said of a comparison in a line or two. */
final class ComparisonWords {
  private ComparisonWords() {}

  /** Lines for a mark: which two, the outcome and why, the change, the next look. */
  static String shortly(Comparison c, Digits digits) {
    String head =
        c.candidate() + " against " + c.baseline() + ": " + JudgedWords.of(c.outcome()).word();
    return head + "\n" + change(c, digits) + "\n" + JudgedWords.of(c.because()) + "\n" + look(c);
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
}
