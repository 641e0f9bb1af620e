package milewarden.report.page.model;

import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.SpreadWords;
import milewarden.report.page.ReleaseWords;
import milewarden.verdict.Comparison;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseJudgement;

/** The sentence with which a model's page begins. */
final class ModelSentence {
  static final String CONTROL =
      "A control: its firmware is left alone, and it tells a bad day from a bad release.";

  private ModelSentence() {}

  static String of(ModelJudgement judged, Policy policy, Digits digits) {
    Optional<ReleaseJudgement> newest = ModelPage.newestTested(judged);
    if (newest.isEmpty()) return "No release is tested yet.";
    return about(newest.get(), judged, policy, digits) + untested(judged, newest.get());
  }

  private static String about(
      ReleaseJudgement r, ModelJudgement judged, Policy policy, Digits digits) {
    String version = r.release().version();
    Optional<String> missing = ReleaseWords.missing(r, policy, digits);
    if (missing.isPresent()) return version + ": " + missing.get() + ".";
    Optional<Comparison> c = ModelChart.deciding(judged, version);
    return c.map(each -> found(each, digits))
        .orElse(version + " is the first release with enough sessions: later ones are held to it.");
  }

  static String found(Comparison c, Digits digits) {
    String size =
        c.estimate().map(e -> " by " + digits.pointsSize(Math.abs(tenth(e.percent())))).orElse("");
    String to = c.candidate();
    String from = c.baseline();
    return switch (c.outcome()) {
      case WORSE -> to + " is worse than " + from + size + ".";
      case BETTER -> to + " is better than " + from + size + ".";
      case EQUIVALENT -> to + " is as accurate as " + from + ".";
      case CHANGED ->
          SpreadWords.isWhy(c.because())
              ? to + " " + SpreadWords.verb(c.because()) + " " + from + "."
              : to + " differs from " + from + size + ".";
      case NOT_SETTLED -> "Whether " + to + " differs from " + from + " is not settled.";
    };
  }

  private static double tenth(double percent) {
    return Math.round(10 * percent) / 10.0;
  }

  private static String untested(ModelJudgement judged, ReleaseJudgement newest) {
    List<String> waiting =
        judged.releases().stream()
            .filter(r -> !r.tested())
            .filter(r -> r.release().date().isAfter(newest.release().date()))
            .map(r -> r.release().version())
            .toList();
    if (waiting.isEmpty()) return "";
    return waiting.size() == 1
        ? " " + waiting.get(0) + " waits for a test."
        : " " + waiting.size() + " newer releases wait for a test.";
  }
}
