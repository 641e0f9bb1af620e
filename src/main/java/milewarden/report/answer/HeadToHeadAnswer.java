package milewarden.report.answer;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.DamageWords;
import milewarden.report.answer.ComparisonAnswer.Interval;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.headtohead.HeadToHead;

/**
 * Models held against each other, for programs. Percent of the reference length, positive when the
 * device reads long.
 *
 * @param source {@code shown}, {@code recorded} or {@code track}
 * @param common conditions that all have in common; {@code swing-left} stands for either wrist
 * @param unread what is missing as its record is damaged, in sentences
 */
public record HeadToHeadAnswer(
    String source,
    List<InCommon> common,
    List<Entry> models,
    List<Held> pairs,
    List<String> unread) {
  public HeadToHeadAnswer {
    common = List.copyOf(common);
    models = List.copyOf(models);
    pairs = List.copyOf(pairs);
    unread = List.copyOf(unread);
  }

  /** A condition. */
  public record InCommon(String course, String carriage, String gait, String settings) {}

  /**
   * A release in the common conditions.
   *
   * @param sessionsElsewhere in other conditions, left out
   */
  public record Entry(
      long modelId,
      String model,
      String firmware,
      int sessions,
      int units,
      OptionalDouble mean,
      OptionalDouble expandedUncertainty,
      Optional<Interval> nextRun,
      List<Purpose> purposes,
      int sessionsElsewhere) {
    public Entry {
      purposes = List.copyOf(purposes);
    }
  }

  /** Whether it is good enough for a purpose. */
  public record Purpose(String code, String decision) {}

  /**
   * Two releases, first minus second.
   *
   * @param sessionsTogether in which both were carried
   * @param paired from those alone
   * @param unpaired from all sessions of both
   */
  public record Held(
      String first,
      String second,
      int sessionsTogether,
      Optional<Points> paired,
      Optional<Points> unpaired,
      boolean toldApart) {}

  /**
   * Points of percent.
   *
   * @param low to {@code high} at 95 %; {@code lowForAll} to {@code highForAll} at 1 - 0.05 / m
   * @param theseUnitsOnly true where the spread between units is not known, and not in it
   */
  public record Points(
      double percent,
      double low,
      double high,
      double lowForAll,
      double highForAll,
      double degreesOfFreedom,
      double p,
      boolean theseUnitsOnly) {}

  /**
   * @param damaged names of models that are left out as their judgement can't be read
   */
  public static HeadToHeadAnswer of(HeadToHead head, List<String> damaged) {
    return new HeadToHeadAnswer(
        code(head.source().source()),
        head.common().stream().map(HeadToHeadAnswer::of).toList(),
        head.sides().stream().map(HeadToHeadAnswer::of).toList(),
        head.pairs().stream().map(HeadToHeadAnswer::of).toList(),
        damaged.isEmpty() ? List.of() : List.of(DamageWords.without(String.join(", ", damaged))));
  }

  private static InCommon of(Condition c) {
    return new InCommon(c.course(), c.carriage().code(), c.gait().code(), c.settings());
  }

  private static Entry of(HeadToHead.Side side) {
    Optional<ReleaseFigures> f = side.figures();
    return new Entry(
        side.release().model(),
        side.release().name(),
        side.release().firmware(),
        f.map(ReleaseFigures::sessions).orElse(0),
        f.map(ReleaseFigures::units).orElse(0),
        f.isPresent() ? OptionalDouble.of(f.get().meanPercent()) : OptionalDouble.empty(),
        f.isPresent() ? f.get().expandedUncertaintyPercent() : OptionalDouble.empty(),
        f.flatMap(ReleaseFigures::nextRun).map(HeadToHeadAnswer::interval),
        side.conformity().stream().map(HeadToHeadAnswer::of).toList(),
        side.elsewhere());
  }

  private static Purpose of(Conformity c) {
    return new Purpose(c.purpose().code(), code(c.decision()));
  }

  private static Interval interval(PercentRange r) {
    return new Interval(r.low(), r.high());
  }

  private static Held of(HeadToHead.Pair p) {
    return new Held(
        p.first().name(),
        p.second().name(),
        p.together(),
        p.carriedTogether().map(HeadToHeadAnswer::of),
        p.apart().map(HeadToHeadAnswer::of),
        p.best().filter(HeadToHead.Difference::toldApart).isPresent());
  }

  private static Points of(HeadToHead.Difference d) {
    return new Points(
        d.points(),
        d.interval().low(),
        d.interval().high(),
        d.simultaneous().low(),
        d.simultaneous().high(),
        Math.min(1e9, d.degreesOfFreedom()),
        d.p(),
        d.unitPercent().isEmpty());
  }

  private static String code(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
