package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.SpreadWords;
import milewarden.report.Status;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.Links;
import milewarden.report.page.ReleaseWords;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;

/**
 * Signed error over the releases: the data of the Model chart. Percent throughout, plus reads long.
 *
 * @param conditions names; a session mark's shape is its condition's place in this list
 */
public record ModelChart(
    List<Limit> limits,
    List<Release> releases,
    List<Mark> sessions,
    List<Change> changes,
    List<String> conditions) {
  public ModelChart {
    limits = List.copyOf(limits);
    releases = List.copyOf(releases);
    sessions = List.copyOf(sessions);
    changes = List.copyOf(changes);
    conditions = List.copyOf(conditions);
  }

  /** A purpose's limit on the size of the mean error. */
  public record Limit(String name, double percent, String words, String negative) {}

  /**
   * A column.
   *
   * @param low and {@code high}: the mean's 95 % interval; empty where there is none yet
   * @param label the mean with its uncertainty
   * @param basis how many sessions it rests on
   * @param note what stands under a mean without an interval
   */
  public record Release(
      String version,
      String date,
      boolean tested,
      boolean anchor,
      OptionalDouble mean,
      OptionalDouble low,
      OptionalDouble high,
      OptionalDouble nextLow,
      OptionalDouble nextHigh,
      String label,
      String basis,
      String note,
      String words) {}

  /** A session in one condition. */
  public record Mark(
      int release, int condition, String session, double percent, String words, String link) {
    // A ten-thousandth of a percent is a thousandth of a line's width.
    private Mark drawn() {
      double seen = Math.round(10_000 * percent) / 10_000.0;
      return new Mark(release, condition, session, seen, words, link);
    }
  }

  /**
   * The outcome of a comparison, written over the columns of the two.
   *
   * @param from index of the baseline
   * @param at index of the candidate
   */
  public record Change(
      int from, int at, String outcome, String tone, String change, String words, String link) {}

  /** The chart of a model; sessions link to their pages. */
  public static ModelChart of(long modelId, ModelExcerpt excerpt, Policy policy, Digits digits) {
    ModelJudgement judged = excerpt.judged();
    List<Condition> conditions = excerpt.conditions();
    ConditionNames names = ConditionNames.of(conditions);
    return new ModelChart(
        policy.purposes().stream()
            .sorted(Comparator.comparingDouble(Policy.Purpose::meanLimitPercent))
            .map(p -> limit(p, digits))
            .toList(),
        judged.releases().stream().map(r -> release(r, judged, policy, digits)).toList(),
        marks(judged, conditions, names, digits),
        changes(modelId, judged, digits),
        conditions.stream().map(names::of).toList());
  }

  /** The same for a script, with as many digits as are seen. */
  public ModelChart drawn() {
    List<Mark> marks = sessions.stream().map(Mark::drawn).toList();
    return new ModelChart(limits, releases, marks, changes, conditions);
  }

  private static Limit limit(Policy.Purpose purpose, Digits digits) {
    double limit = purpose.meanLimitPercent();
    return new Limit(
        JudgedWords.purpose(purpose.code()),
        limit,
        digits.bothSides(limit),
        digits.percent(-limit));
  }

  private static Release release(
      ReleaseJudgement r, ModelJudgement judged, Policy policy, Digits digits) {
    Optional<ReleaseFigures> figures = r.pooled();
    Optional<PercentRange> mean = figures.flatMap(ReleaseFigures::interval);
    Optional<PercentRange> next = figures.flatMap(ReleaseFigures::nextRun);
    return new Release(
        r.release().version(),
        digits.date(r.release().date()),
        r.tested(),
        judged.anchor().filter(r.release().version()::equals).isPresent(),
        figures.map(f -> OptionalDouble.of(f.meanPercent())).orElse(OptionalDouble.empty()),
        low(mean),
        high(mean),
        low(next),
        high(next),
        figures.map(f -> ReleaseWords.mean(f, digits)).orElse(""),
        figures.map(f -> digits.sessions(f.sessions())).orElse(""),
        ReleaseWords.missing(r, policy, digits).orElse(""),
        ReleaseWords.allOf(r, policy, digits));
  }

  private static OptionalDouble low(Optional<PercentRange> range) {
    return range.map(i -> OptionalDouble.of(i.low())).orElse(OptionalDouble.empty());
  }

  private static OptionalDouble high(Optional<PercentRange> range) {
    return range.map(i -> OptionalDouble.of(i.high())).orElse(OptionalDouble.empty());
  }

  private static List<Mark> marks(
      ModelJudgement judged, List<Condition> conditions, ConditionNames names, Digits digits) {
    List<Mark> marks = new ArrayList<>();
    for (int i = 0; i < judged.releases().size(); i++)
      for (SessionFigure session : judged.releases().get(i).sessions())
        for (SessionFigure.OfCondition each : session.conditions())
          marks.add(
              new Mark(
                  i,
                  conditions.indexOf(each.condition()),
                  session.session(),
                  each.meanPercent(),
                  ReleaseWords.session(session, each, names, digits),
                  Links.session(session.session())));
    return marks;
  }

  private static List<Change> changes(long modelId, ModelJudgement judged, Digits digits) {
    List<Change> changes = new ArrayList<>();
    List<String> versions = judged.releases().stream().map(r -> r.release().version()).toList();
    for (int i = 1; i < judged.releases().size(); i++) {
      ReleaseJudgement r = judged.releases().get(i);
      String before = judged.releases().get(i - 1).release().version();
      Optional<Comparison> deciding = deciding(judged, r.release().version());
      if (!r.tested() || deciding.isEmpty()) continue;
      changes.add(change(i, versions, modelId, deciding.get(), before, digits));
    }
    return changes;
  }

  /** The comparison that decides on a candidate: against the anchor, else the release before. */
  static Optional<Comparison> deciding(ModelJudgement judged, String candidate) {
    return judged.comparisons().stream()
        .filter(c -> c.candidate().equals(candidate))
        .min(Comparator.comparing(Comparison::against));
  }

  private static Change change(
      int at, List<String> versions, long modelId, Comparison c, String before, Digits digits) {
    Status outcome = JudgedWords.of(c.outcome());
    String size =
        SpreadWords.times(c, digits)
            .map(times -> "spread " + times)
            .or(() -> c.estimate().map(e -> digits.signed(e.percent(), 1)))
            .orElse(digits.sessions(c.candidateSessions()));
    return new Change(
        Math.max(0, versions.indexOf(c.baseline())),
        at,
        outcome.word(),
        outcome.tone().code(),
        c.baseline().equals(before) ? size : size + " on " + c.baseline(),
        ComparisonWords.shortly(c, digits),
        Links.comparison(modelId, c.candidate(), c.baseline()));
  }
}
