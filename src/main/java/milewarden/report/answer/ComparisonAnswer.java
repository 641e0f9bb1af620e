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
import milewarden.verdict.Findings;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.SmoothingChange;
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
 * @param smoothing of the positions, held against the release before; empty where nothing can be
 *     said, or where the baseline is another release
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
    Optional<SmoothingAnswer> smoothing,
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

  /**
   * How far the positions are smoothed, from what the bends of common conditions show, seconds.
   *
   * @param lowS and {@code highS}: 95 % interval of the change, candidate minus baseline
   * @param changed true where it is called another filter: {@code p} below {@code alpha}, the
   *     change worth telling, and a filter seen in the tracks
   */
  public record SmoothingAnswer(
      Pair sessions,
      double candidateLagS,
      double baselineLagS,
      double changeS,
      double lowS,
      double highS,
      double p,
      double alpha,
      boolean changed) {
    static SmoothingAnswer of(SmoothingChange s) {
      return new SmoothingAnswer(
          new Pair(s.candidateSessions(), s.baselineSessions()),
          s.candidateLagS(),
          s.baselineLagS(),
          s.changeS(),
          s.lowS(),
          s.highS(),
          s.p(),
          s.alpha(),
          s.changed());
    }
  }

  /** One of the comparisons of this judgement. */
  public static ComparisonAnswer of(Findings judged, Findings.OfComparison c) {
    return new ComparisonAnswer(
        judged.model(),
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
        judged
            .smoothingOf(c.candidate())
            .filter(s -> s.baseline().equals(c.baseline()))
            .map(SmoothingAnswer::of),
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
        smoothing,
        Optional.of(found.stream().map(StripAnswer::of).toList()));
  }

  private static LookAnswer look(Findings.OfComparison c) {
    Optional<Findings.OfLook> deciding = last(c);
    if (deciding.isEmpty())
      return new LookAnswer(
          OptionalInt.empty(),
          OptionalInt.empty(),
          OptionalDouble.empty(),
          c.nextLookAt(),
          c.lookWaitsUntil());
    Findings.OfLook last = deciding.get();
    return new LookAnswer(
        OptionalInt.of(last.number()),
        OptionalInt.of(last.sessions()),
        OptionalDouble.of(last.alpha()),
        c.nextLookAt(),
        c.lookWaitsUntil());
  }

  private static Optional<Findings.OfLook> last(Findings.OfComparison c) {
    return c.looks().stream()
        .filter(l -> !l.beside())
        .<Findings.OfLook>map(l -> l)
        .reduce((a, b) -> b);
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
