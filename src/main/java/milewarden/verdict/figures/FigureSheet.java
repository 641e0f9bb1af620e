package milewarden.verdict.figures;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import milewarden.statistics.TwoWay;
import milewarden.statistics.UncertaintySum;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseFigures.Sufficiency;
import milewarden.verdict.SessionFigure;

/** Works out the figures of a release from its evidence. */
public final class FigureSheet {
  private static final double LEVEL = 0.95;
  // Two-sided 95 % of the normal distribution, as Bland and Altman (1986) take it.
  private static final double LIMITS_OF_AGREEMENT = 1.96;
  // A double that JSON can carry; infinite degrees of freedom mean: the reference dominates.
  private static final double MOST_DF = 1e9;

  private FigureSheet() {}

  /** Figures of evidence that is not empty. */
  public static ReleaseFigures of(
      Evidence e, Optional<Condition> condition, Policy policy, Optional<UnitVariance> others) {
    Optional<UnitVariance> unit = unitVariance(e, policy, others);
    MeanError mean = MeanError.of(e, unit);
    int days = (int) e.sessions().stream().map(SessionFigure::date).distinct().count();
    Optional<NextRun> next = mean.hasSpread() ? Optional.of(NextRun.of(e, mean)) : Optional.empty();
    Optional<UncertaintySum> u =
        mean.hasSpread() ? Optional.of(mean.uncertainty()) : Optional.empty();
    return new ReleaseFigures(
        e.source(),
        condition,
        mean.sessions(),
        days,
        mean.units(),
        e.passes().size(),
        mean.mean(),
        new PercentRange(mean.low(), mean.high()),
        mean.hasSpread() ? OptionalDouble.of(Math.sqrt(mean.variance())) : OptionalDouble.empty(),
        number(u.map(x -> Math.min(MOST_DF, x.degreesOfFreedom()))),
        number(u.map(UncertaintySum::standardUncertainty)),
        number(u.map(x -> x.expanded(LEVEL))),
        u.map(x -> mean.interval(LEVEL)),
        next.map(x -> x.interval(LEVEL)),
        next.map(x -> agreement(mean, x)),
        e.passes().stream()
            .mapToDouble(p -> Math.abs(PassError.of(p, e.source()).orElseThrow().asRead()))
            .average()
            .orElseThrow(),
        next.map(x -> root(x.passVariance())).orElse(OptionalDouble.empty()),
        number(unit.map(x -> Math.sqrt(x.variance()))),
        Math.sqrt(mean.referenceVariance()),
        unit.isEmpty(),
        sufficiency(mean, days, policy),
        oppositeSigns(e));
  }

  private static OptionalDouble number(Optional<Double> x) {
    return x.isPresent() ? OptionalDouble.of(x.get()) : OptionalDouble.empty();
  }

  private static OptionalDouble root(OptionalDouble x) {
    return x.isPresent() ? OptionalDouble.of(Math.sqrt(x.getAsDouble())) : x;
  }

  private static PercentRange agreement(MeanError mean, NextRun next) {
    double half = LIMITS_OF_AGREEMENT * next.passAndSessionSd();
    return new PercentRange(mean.mean() - half, mean.mean() + half);
  }

  static Sufficiency sufficiency(MeanError mean, int days, Policy policy) {
    if (mean.sessions() < policy.insufficientSessions() || !mean.hasSpread())
      return Sufficiency.INSUFFICIENT;
    boolean few =
        mean.sessions() < policy.provisionalSessions()
            || days < policy.provisionalDays()
            || mean.units() < policy.provisionalUnits();
    return few ? Sufficiency.PROVISIONAL : Sufficiency.SUFFICIENT;
  }

  private static boolean oppositeSigns(Evidence e) {
    Map<Condition, Double> sums = new HashMap<>();
    for (SessionFigure session : e.sessions())
      for (SessionFigure.OfCondition c : session.conditions())
        sums.merge(c.condition(), c.meanPercent(), Double::sum);
    return sums.values().stream().anyMatch(x -> x > 0)
        && sums.values().stream().anyMatch(x -> x < 0);
  }

  /**
   * The variance between units: this release's own where units are enough, else the one of all
   * models, else none.
   */
  public static Optional<UnitVariance> unitVariance(
      Evidence e, Policy policy, Optional<UnitVariance> others) {
    if (e.units().size() < policy.unitsForVariance()) return others;
    return ownUnitVariance(e)
        .map(own -> new UnitVariance(Math.max(0, own.variance()), own.degreesOfFreedom()))
        .or(() -> others);
  }

  /**
   * From the sessions in which every unit was carried; empty where fewer than two such. Negative
   * where units differ less than the rest lets expect.
   */
  public static Optional<UnitVariance> ownUnitVariance(Evidence e) {
    Set<String> units = e.units();
    Map<String, Map<String, Double>> cells = new TreeMap<>();
    int from = 0;
    for (SessionFigure s : e.sessions()) {
      List<PassEvidence> passes = e.ofSession(from, s);
      from += passes.size();
      if (s.units().size() < units.size()) continue;
      for (String unit : units)
        cells
            .computeIfAbsent(unit, k -> new TreeMap<>())
            .put(s.session(), Gathering.meanPercent(e.source(), ofUnit(passes, unit)));
    }
    List<double[]> rows = new ArrayList<>();
    for (Map<String, Double> row : cells.values())
      rows.add(row.values().stream().mapToDouble(Double::doubleValue).toArray());
    if (rows.size() < 2 || rows.get(0).length < 2) return Optional.empty();
    TwoWay table = TwoWay.of(rows.toArray(double[][]::new));
    return Optional.of(new UnitVariance(table.rowComponent(), table.rowDegreesOfFreedom()));
  }

  private static List<PassEvidence> ofUnit(List<PassEvidence> passes, String unit) {
    List<PassEvidence> of = new ArrayList<>(passes.size());
    for (PassEvidence p : passes) if (p.unit().equals(unit)) of.add(p);
    return of;
  }
}
