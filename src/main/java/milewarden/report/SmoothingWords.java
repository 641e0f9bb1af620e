package milewarden.report;

import java.util.List;
import java.util.stream.Stream;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.SmoothingChange;

/**
 * How the smoothing of a release's positions stands against that of the release before, in words.
 */
public final class SmoothingWords {
  private SmoothingWords() {}

  /** {@code smooths its positions more than}. */
  static String verb(SmoothingChange s) {
    return "smooths its positions " + (s.more() ? "more" : "less") + " than";
  }

  /** {@code a lag of 2.1 s, was 0.8 s}. */
  static String lags(SmoothingChange s, Digits digits) {
    return "a lag of "
        + digits.seconds(s.candidateLagS())
        + ", was "
        + digits.seconds(s.baselineLagS());
  }

  /** Figures, evidence, and what the distance did; without a full stop. */
  static String figures(SmoothingChange s, Digits digits) {
    return "in bends "
        + lags(s, digits)
        + " (a change of "
        + change(s.changeS(), digits)
        + ", 95 %: "
        + change(s.lowS(), digits)
        + " to "
        + change(s.highS(), digits)
        + ", on "
        + s.candidateSessions()
        + " against "
        + digits.sessions(s.baselineSessions())
        + ")";
  }

  private static String change(double seconds, Digits digits) {
    return (seconds > 0 ? "+" : "") + digits.seconds(seconds);
  }

  /** What the comparison of the distances found, as the second half of a sentence. */
  static String distance(SmoothingChange s) {
    if (s.distance().isEmpty()) return "the distances were not compared";
    Outcome outcome = s.distance().get();
    return switch (outcome) {
      case EQUIVALENT -> "the distance has not changed";
      case NOT_SETTLED -> "whether the distance changed is not settled";
      case WORSE, BETTER, CHANGED -> "its distance is " + JudgedWords.of(outcome).word() + ", too";
    };
  }

  /** Whether it changed, by how much, and beside what; one sentence. */
  public static String sentence(SmoothingChange s, Digits digits) {
    return s.changed()
        ? s.candidate()
            + " "
            + verb(s)
            + " "
            + s.baseline()
            + ": "
            + figures(s, digits)
            + "; "
            + distance(s)
            + "."
        : "No change of smoothing is shown against "
            + s.baseline()
            + ": "
            + figures(s, digits)
            + ".";
  }

  /** What to do about a change. */
  static List<String> advice(SmoothingChange s) {
    return List.of(
        "Look at its tracks in bends, beside those of " + s.baseline() + ".",
        "Test it on a course with tighter bends before you rely on what was said of "
            + s.baseline()
            + ": there smoothing moves distances first.");
  }

  /** The sentence, and what to do where there is something to do. */
  public static List<String> told(SmoothingChange s, Digits digits) {
    return s.changed()
        ? Stream.concat(Stream.of(sentence(s, digits)), advice(s).stream()).toList()
        : List.of(sentence(s, digits));
  }
}
