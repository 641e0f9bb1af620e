package milewarden.report.page.overview;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.report.page.Links;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.Strip;
import milewarden.report.page.model.ModelPage;
import milewarden.verdict.DueItem;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.judging.ManyModels;

/** A model on one line of the overview. */
final class OverviewRow {
  // The drawing of the template: 96 wide, 24 high, 3 free all around.
  private static final double WIDTH = 90;
  private static final double HEIGHT = 18;
  private static final double MARGIN = 3;

  private OverviewRow() {}

  static OverviewPage.ModelRow of(
      long id,
      Findings judged,
      List<DueItem> due,
      ManyModels<Long> together,
      Policy policy,
      double scale,
      Digits digits) {
    Optional<? extends Findings.OfRelease> newest = ModelPage.newestTested(judged.releases());
    List<? extends Findings.OfRelease> releases = judged.releases();
    String last = newestVersion(judged);
    String measured = newest.map(r -> r.release().version()).orElse("");
    return new OverviewPage.ModelRow(
        judged.model(),
        Links.model(id),
        last,
        last.equals(measured)
            ? Status.holds("tested")
            : Status.watch(measured.isEmpty() ? "not tested" : "not tested; last was " + measured),
        newest.map(r -> ReleaseWords.mean(r, digits)).orElse(Digits.NOT_TESTED),
        newest.flatMap(r -> Strip.of(r, policy, scale, digits)),
        newest.map(r -> ReleaseWords.nextRun(r, digits)).orElse(Digits.NOT_TESTED),
        newest
            .flatMap(
                r ->
                    ReleaseWords.missing(r, policy, digits)
                        .or(() -> ReleaseWords.waiting(r, digits)))
            .orElse(""),
        newest.map(r -> ModelPage.purposes(r)).orElse(List.of()),
        trend(releases),
        trendWords(releases, digits),
        pressing(judged.model(), due),
        together(together, id, digits));
  }

  /** Whether the change that was called stands among all that were tested at once. */
  private static String together(ManyModels<Long> many, long id, Digits digits) {
    if (many.tests() < 2) return "";
    String among = " among " + digits.counted(many.tests(), "comparison");
    return many.of(id).map(s -> (s ? "stands" : "may be chance") + among).orElse("");
  }

  /** A control is no candidate: nothing is judged of it, and nothing is due. */
  static OverviewPage.ModelRow ofControl(long id, Findings judged) {
    return new OverviewPage.ModelRow(
        judged.model(),
        Links.model(id),
        newestVersion(judged),
        Status.unknown("control, left alone"),
        "not judged",
        Optional.empty(),
        "not judged",
        "",
        List.of(),
        "",
        "",
        Status.holds("nothing due"),
        "");
  }

  private static String newestVersion(Findings judged) {
    List<? extends Findings.OfRelease> releases = judged.releases();
    return releases.isEmpty() ? "" : releases.get(releases.size() - 1).release().version();
  }

  private static Status pressing(String model, List<DueItem> due) {
    List<DueItem> its = due.stream().filter(i -> i.model().equals(model)).toList();
    if (its.isEmpty()) return Status.holds("nothing due");
    Status first = JudgedWords.of(its.get(0).severity());
    return new Status(JudgedWords.of(its.get(0).kind()), first.tone());
  }

  private static List<Double> means(List<? extends Findings.OfRelease> releases) {
    List<Double> means = new ArrayList<>();
    for (Findings.OfRelease r : releases)
      r.pooled().map(ReleaseFigures::meanPercent).ifPresent(means::add);
    return means;
  }

  private static String trend(List<? extends Findings.OfRelease> releases) {
    List<Double> means = means(releases);
    if (means.size() < 2) return "";
    double most = Math.max(0.5, means.stream().mapToDouble(Math::abs).max().orElse(1));
    StringBuilder points = new StringBuilder();
    for (int i = 0; i < means.size(); i++) {
      double x = MARGIN + WIDTH * i / (means.size() - 1);
      double y = MARGIN + HEIGHT / 2 * (1 - means.get(i) / most);
      points.append(Strip.tenths(x)).append(',').append(Strip.tenths(y)).append(' ');
    }
    return points.toString().strip();
  }

  private static String trendWords(List<? extends Findings.OfRelease> releases, Digits digits) {
    List<String> words = means(releases).stream().map(digits::percent).toList();
    return words.isEmpty()
        ? Digits.NOT_TESTED
        : "mean errors in order: " + String.join(", ", words);
  }
}
