package milewarden.verdict.headtohead;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.Direction;
import milewarden.statistics.Contrast;
import milewarden.statistics.Sample;
import milewarden.statistics.UncertaintySum;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;
import milewarden.verdict.figures.MeanError;
import milewarden.verdict.headtohead.HeadToHead.Difference;
import milewarden.verdict.headtohead.HeadToHead.Outing;
import milewarden.verdict.headtohead.HeadToHead.Pair;
import milewarden.verdict.headtohead.HeadToHead.Release;

/**
 * Two releases held against each other. The unit of evidence is the session, never the pass: passes
 * of an outing share its day and are averaged first. The reference falls out of the difference, as
 * both went over the same courses with the same weights.
 *
 * @param pairs how many are asked at once
 */
record Pairing(
    Evidence first, Evidence second, int pairs, Policy policy, Optional<UnitVariance> others) {
  private static final double LEVEL = 0.95;

  /** What of an outing is alike for both: they went this way there. */
  private record Way(Condition condition, Direction direction) {}

  Pair of(Release a, Release b) {
    List<Outing> outings = outings();
    return new Pair(a, b, outings, together(outings), apart());
  }

  /**
   * Both figures of each session in which both were carried, over the ways that both went: units
   * averaged within a way, ways within a condition, conditions within the session.
   */
  private List<Outing> outings() {
    List<Outing> all = new ArrayList<>();
    Map<String, List<PassEvidence>> ofSecond = bySession(second);
    bySession(first)
        .forEach(
            (session, passes) -> {
              Map<Way, Double> mine = ways(first, passes);
              Map<Way, Double> other = ways(second, ofSecond.getOrDefault(session, List.of()));
              mine.keySet().retainAll(other.keySet());
              other.keySet().retainAll(mine.keySet());
              if (!mine.isEmpty()) all.add(new Outing(session, overWays(mine), overWays(other)));
            });
    return all;
  }

  private static double overWays(Map<Way, Double> errors) {
    Map<Condition, List<Double>> byCondition = new LinkedHashMap<>();
    errors.forEach(
        (way, error) ->
            byCondition.computeIfAbsent(way.condition(), c -> new ArrayList<>()).add(error));
    return mean(byCondition.values().stream().map(Pairing::mean).toList());
  }

  private static Map<String, List<PassEvidence>> bySession(Evidence e) {
    Map<String, List<PassEvidence>> by = new LinkedHashMap<>();
    for (PassEvidence p : e.passes())
      by.computeIfAbsent(p.session(), s -> new ArrayList<>()).add(p);
    return by;
  }

  private static Map<Way, Double> ways(Evidence e, List<PassEvidence> passes) {
    Map<Way, Map<String, List<Double>>> units = new LinkedHashMap<>();
    for (PassEvidence p : passes)
      units
          .computeIfAbsent(new Way(p.condition(), p.direction()), w -> new LinkedHashMap<>())
          .computeIfAbsent(p.unit(), u -> new ArrayList<>())
          .add(PassError.of(p, e.source()).orElseThrow().asRead());
    Map<Way, Double> means = new LinkedHashMap<>();
    units.forEach(
        (way, of) -> means.put(way, mean(of.values().stream().map(Pairing::mean).toList())));
    return means;
  }

  private static double mean(List<Double> of) {
    return of.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  /** The paired t test on the sessions' differences (Student 1908). */
  private Optional<Difference> together(List<Outing> outings) {
    if (outings.size() < 2) return Optional.empty();
    Sample sample = Sample.of(outings.stream().mapToDouble(Outing::difference).toArray());
    double df = sample.n() - 1.0;
    return Optional.of(
        difference(sample.mean(), UncertaintySum.NONE.plus(sample.variance() / sample.n(), df)));
  }

  /** Of both means, each with its own spread (Welch 1947), conditions weighing alike in both. */
  private Optional<Difference> apart() {
    if (first.isEmpty() || second.isEmpty()) return Optional.empty();
    MeanError a = MeanError.of(first, Optional.empty());
    MeanError b = MeanError.of(second, Optional.empty());
    if (!a.hasSpread() || !b.hasSpread()) return Optional.empty();
    return Optional.of(
        difference(
            a.mean() - b.mean(),
            UncertaintySum.NONE
                .plus(a.variance() * a.leverage(), a.degreesOfFreedom())
                .plus(b.variance() * b.leverage(), b.degreesOfFreedom())));
  }

  private Difference difference(double points, UncertaintySum sessions) {
    UncertaintySum sum = sessions;
    double units = 0;
    boolean known = true;
    for (Evidence e : List.of(first, second)) {
      Optional<UnitVariance> unit = FigureSheet.unitVariance(e, policy, others);
      known &= unit.isPresent();
      if (unit.isEmpty()) continue;
      double variance = unit.get().variance() / e.units().size();
      sum = sum.plus(variance, unit.get().degreesOfFreedom());
      units += variance;
    }
    double df = sum.degreesOfFreedom();
    Contrast contrast = new Contrast(points, sum.standardUncertainty(), df > 0 ? df : 1);
    // Bonferroni: with m intervals at 1 - 0.05 / m each, all hold together with 95 % at least.
    double every = 1 - (1 - LEVEL) / Math.max(1, pairs);
    return new Difference(
        points,
        contrast.standardError(),
        contrast.degreesOfFreedom(),
        interval(contrast, LEVEL),
        interval(contrast, every),
        contrast.p(),
        known ? OptionalDouble.of(Math.sqrt(units)) : OptionalDouble.empty());
  }

  private static PercentRange interval(Contrast contrast, double level) {
    double half = contrast.halfWidth(level);
    return new PercentRange(contrast.estimate() - half, contrast.estimate() + half);
  }
}
