package milewarden.report.answer;

import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.report.JudgedWords;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.Look;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.place.DifferenceStrip;

/**
 * A comparison for programs: {@code compare --json} and the API. Percent of the reference length,
 * positive when the device reads long.
 *
 * @param source {@code shown}, {@code recorded} or {@code track}
 * @param difference of the last look taken, of the sessions so far where none was; its interval at
 *     95 %, whatever the look's alpha
 * @param outcome {@code worse}, {@code better}, {@code equivalent}, {@code changed} or {@code
 *     not-settled}
 * @param because in words
 * @param strips by course, as far as both have tracks on it; empty where they were not asked for
 */
public record ComparisonAnswer(
    String model,
    String candidate,
    String baseline,
    String source,
    Pair sessions,
    LookAnswer look,
    Means meanErrorPercent,
    Optional<Difference> difference,
    String outcome,
    String because,
    OptionalDouble minimumDetectableChangePercent,
    OptionalInt sessionsNeeded,
    List<OfCondition> conditions,
    Optional<List<StripAnswer>> strips) {
  public ComparisonAnswer {
    conditions = List.copyOf(conditions);
    strips = strips.map(List::copyOf);
  }

  /** Sessions of both. */
  public record Pair(int candidate, int baseline) {}

  /**
   * The last look that was taken, empty before the first, and when the next is; empty if none.
   *
   * @param waitsUntil where a look has its sessions and waits for more of them to come in
   */
  public record LookAnswer(
      OptionalInt number,
      OptionalInt at,
      OptionalDouble alpha,
      OptionalInt nextAt,
      Optional<Instant> waitsUntil) {}

  /** Figures of both; empty where a side has no session in common conditions. */
  public record Means(Optional<Mean> candidate, Optional<Mean> baseline) {}

  /** The figures of one release. */
  public record Mean(
      double mean,
      OptionalDouble sd,
      OptionalDouble expandedUncertainty,
      Optional<Interval> nextRun) {}

  /** Percent. */
  public record Interval(double low, double high) {}

  /**
   * Candidate minus baseline, in points of percent.
   *
   * @param controlSlope share of the control unit's error that is taken out, 0 to 1; empty where
   *     none was carried in enough sessions
   */
  public record Difference(
      double percent,
      double low,
      double high,
      double degreesOfFreedom,
      double p,
      OptionalDouble permutationP,
      OptionalDouble controlSlope) {}

  /** The same within one condition. */
  public record OfCondition(
      String course,
      String carriage,
      String gait,
      Pair sessions,
      Optional<ConditionDifference> difference) {}

  /** Candidate minus baseline within one condition. */
  public record ConditionDifference(double percent, double low, double high) {}

  public static ComparisonAnswer of(String model, Comparison c) {
    return new ComparisonAnswer(
        model,
        c.candidate(),
        c.baseline(),
        code(c.source().source()),
        new Pair(c.candidateSessions(), c.baselineSessions()),
        look(c),
        new Means(c.sides().map(s -> mean(s.candidate())), c.sides().map(s -> mean(s.baseline()))),
        c.estimate().map(ComparisonAnswer::difference),
        code(c.outcome()),
        JudgedWords.of(c.because()),
        c.minimumDetectableChangePercent(),
        c.sessionsNeeded(),
        c.conditions().stream().map(ComparisonAnswer::condition).toList(),
        Optional.empty());
  }

  /** The same with where along the courses the two differ. */
  public ComparisonAnswer with(List<DifferenceStrip> found) {
    return new ComparisonAnswer(
        model,
        candidate,
        baseline,
        source,
        sessions,
        look,
        meanErrorPercent,
        difference,
        outcome,
        because,
        minimumDetectableChangePercent,
        sessionsNeeded,
        conditions,
        Optional.of(found.stream().map(StripAnswer::of).toList()));
  }

  private static LookAnswer look(Comparison c) {
    if (c.lastLook().isEmpty())
      return new LookAnswer(
          OptionalInt.empty(),
          OptionalInt.empty(),
          OptionalDouble.empty(),
          c.nextLookAt(),
          c.lookWaitsUntil());
    Look last = c.lastLook().get();
    return new LookAnswer(
        OptionalInt.of(last.number()),
        OptionalInt.of(last.sessions()),
        OptionalDouble.of(last.alpha()),
        c.nextLookAt(),
        c.lookWaitsUntil());
  }

  private static Mean mean(ReleaseFigures f) {
    return new Mean(
        f.meanPercent(),
        f.sdPercent(),
        f.expandedUncertaintyPercent(),
        f.nextRun().map(ComparisonAnswer::interval));
  }

  private static Interval interval(PercentRange range) {
    return new Interval(range.low(), range.high());
  }

  private static Difference difference(Comparison.Estimate e) {
    return new Difference(
        e.percent(),
        e.interval().low(),
        e.interval().high(),
        e.degreesOfFreedom(),
        e.p(),
        e.permutationP(),
        e.controlSlope());
  }

  private static OfCondition condition(Comparison.OfCondition c) {
    return new OfCondition(
        c.condition().course(),
        c.condition().carriage().code(),
        c.condition().gait().code(),
        new Pair(c.candidateSessions(), c.baselineSessions()),
        c.estimate()
            .map(
                e ->
                    new ConditionDifference(e.percent(), e.interval().low(), e.interval().high())));
  }

  static String code(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
