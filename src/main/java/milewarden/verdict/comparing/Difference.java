package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import milewarden.statistics.BrownForsythe;
import milewarden.statistics.Contrast;
import milewarden.statistics.Permutation;
import milewarden.statistics.Sample;
import milewarden.statistics.UncertaintySum;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Caution;
import milewarden.verdict.Comparison.Estimate;
import milewarden.verdict.Comparison.OfCondition;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Comparison.Sides;
import milewarden.verdict.Comparison.Spread;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.Policy;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;

/**
 * The difference of two releases on given evidence.
 *
 * @param sd residual standard deviation between sessions; NaN where unknown
 * @param alpha what the pooled difference is held against
 */
record Difference(
    Evidence candidate,
    Evidence baseline,
    Sides sides,
    Optional<Estimate> estimate,
    List<OfCondition> conditions,
    Optional<Spread> spread,
    Verdict outcome,
    double sd,
    double alpha,
    Set<Caution> cautions) {

  /** What was found, and why. */
  record Verdict(Outcome outcome, Because because) {}

  /**
   * By what rules.
   *
   * @param alpha of the look, for all its tests together
   * @param permute true where the permutation test can reach alpha
   * @param taken the looks of this number that were taken before
   */
  record Rules(
      Policy policy,
      double alpha,
      double equivalenceLevel,
      boolean permute,
      Optional<UnitVariance> others,
      TakenLooks.Numbered taken) {}

  /** Both sides hold a session. */
  static Difference of(Evidence c, Evidence b, Ground ground, Rules rules) {
    return new Working(c, b, ground, rules).difference();
  }

  /** One difference in the making. */
  private static final class Working {
    private final Evidence c;
    private final Evidence b;
    private final Ground ground;
    private final Rules rules;
    private final Policy policy;
    private final AlphaSplit split;
    private final double offset;
    private final Resolution resolution;
    private final Optional<UnitVariance> unit;
    private final Set<Caution> cautions = new TreeSet<>();

    Working(Evidence c, Evidence b, Ground ground, Rules rules) {
      this.c = c;
      this.b = b;
      this.ground = ground;
      this.rules = rules;
      this.policy = rules.policy();
      this.split = AlphaSplit.of(rules.alpha(), c.conditions().size(), policy);
      this.offset = ground.reanchored().map(Contrast::estimate).orElse(0.0);
      this.resolution = Resolution.of(c, b, ground.source().source(), policy);
      this.unit =
          ground.unitsDiffer() && ground.reanchored().isEmpty()
              ? FigureSheet.unitVariance(c, policy, rules.others())
                  .or(() -> FigureSheet.unitVariance(b, policy, rules.others()))
              : Optional.empty();
    }

    Difference difference() {
      Sides sides =
          new Sides(
              FigureSheet.of(c, Optional.empty(), policy, rules.others()),
              FigureSheet.of(b, Optional.empty(), policy, rules.others()));
      Fit fit =
          Fit.of(Rows.of(c, b, ground.controls(), offset), ground.controls().offsetError(), policy);
      caution(fit);
      Optional<Estimate> estimate =
          b.sessions().size() < 2
              ? Optional.empty()
              : fit.contrast().map(k -> estimate(k, fit, split.pooled()));
      boolean real = estimate.filter(e -> Outcomes.real(e, split.pooled())).isPresent();
      List<OfCondition> conditions =
          c.conditions().size() == 1
              ? List.of(only(estimate))
              : conditions(real ? split.named() : split.each());
      if (estimate.isPresent() && rules.permute()) estimate = estimate.map(e -> permuted(e, fit));
      Optional<Spread> spread = spread(fit);
      Outcomes outcomes =
          new Outcomes(
              c, b, sides, ground.source(), estimate, conditions, spread, split, rules, cautions);
      return new Difference(
          c,
          b,
          sides,
          estimate,
          conditions,
          spread,
          outcomes.settle(),
          resolution.spread(fit.sd()),
          split.pooled(),
          cautions);
    }

    private void caution(Fit fit) {
      if (b.sessions().size() < policy.baselineSessions()) cautions.add(Caution.THIN_BASELINE);
      if (ground.source().why() == Source.Why.NOTHING_FINER)
        cautions.add(Caution.DISPLAY_TOO_COARSE);
      if (oneDirection(c) || oneDirection(b)) cautions.add(Caution.ONE_DIRECTION);
      if (ground.cut()) cautions.add(Caution.LEFT_OUT_FOR_DIRECTION);
      if (fit.adjusted()) cautions.add(Caution.CONTROL_USED);
      if (fit.leftOut() > 0) cautions.add(Caution.SESSIONS_WITHOUT_CONTROL);
      if (!ground.unitsDiffer()) return;
      if (ground.reanchored().isPresent()) cautions.add(Caution.RE_ANCHORED);
      else cautions.add(unit.isPresent() ? Caution.UNITS_DIFFER : Caution.UNIT_VARIANCE_UNKNOWN);
    }

    private static boolean oneDirection(Evidence e) {
      for (SessionFigure s : e.sessions())
        for (SessionFigure.OfCondition cell : s.conditions()) if (cell.oneDirection()) return true;
      return false;
    }

    /** Where the units differ, their variance is carried, or that of the offset between them. */
    private Contrast withUnits(Contrast k) {
      if (!ground.unitsDiffer()) return k;
      UncertaintySum sum =
          UncertaintySum.NONE.plus(k.standardError() * k.standardError(), k.degreesOfFreedom());
      if (ground.reanchored().isPresent()) {
        Contrast by = ground.reanchored().get();
        sum = sum.plus(by.standardError() * by.standardError(), by.degreesOfFreedom());
      } else if (unit.isPresent()) {
        double each = 1.0 / c.units().size() + 1.0 / b.units().size();
        sum = sum.plus(unit.get().variance() * each, unit.get().degreesOfFreedom());
      }
      return new Contrast(
          k.estimate(), sum.standardUncertainty(), Math.min(1e9, sum.degreesOfFreedom()));
    }

    private Estimate estimate(Contrast fitted, Fit fit, double alpha) {
      Contrast k = withUnits(resolution.floored(fitted, fit.sd()));
      return new Estimate(
          k.estimate(),
          k.standardError(),
          k.degreesOfFreedom(),
          resolution.around(k, 0.95),
          resolution.around(k, 1 - alpha),
          resolution.around(k, rules.equivalenceLevel()),
          resolution.p(k),
          OptionalDouble.empty(),
          fit.welch(policy).map(w -> OptionalDouble.of(w.p())).orElse(OptionalDouble.empty()),
          fit.slope());
    }

    private Estimate permuted(Estimate e, Fit fit) {
      OptionalDouble known = rules.taken().permutationP(c, b, e);
      return e.withPermutationP(
          known.isPresent() ? known.getAsDouble() : Permutation.p(fit.candidate(), fit.baseline()));
    }

    /** What is pooled of one condition is that condition's. */
    private OfCondition only(Optional<Estimate> estimate) {
      return new OfCondition(
          c.conditions().get(0),
          c.sessions().size(),
          b.sessions().size(),
          Sample.of(c.means()).mean(),
          Sample.of(b.means()).mean(),
          estimate);
    }

    private List<OfCondition> conditions(double alpha) {
      List<OfCondition> found = new ArrayList<>();
      for (Condition condition : c.conditions()) {
        Rows rows = Rows.of(c, b, condition, ground.controls(), offset);
        Optional<Estimate> estimate = Optional.empty();
        if (rows.candidates() >= 2 && rows.baselines() >= 2) {
          Fit fit = Fit.of(rows, ground.controls().offsetError(), policy);
          estimate = fit.contrast().map(k -> estimate(k, fit, alpha));
        }
        double[] y = rows.y();
        found.add(
            new OfCondition(
                condition,
                rows.candidates(),
                rows.baselines(),
                Sample.of(Arrays.copyOf(y, rows.candidates())).mean() + offset,
                Sample.of(Arrays.copyOfRange(y, rows.candidates(), y.length)).mean(),
                estimate));
      }
      return found;
    }

    private Optional<Spread> spread(Fit fit) {
      double[] candidates = fit.candidate();
      double[] baselines = fit.baseline();
      int n = candidates.length + baselines.length;
      if (Math.min(candidates.length, baselines.length) < 2 || n < 5) return Optional.empty();
      if (!resolution.tellsSpread(candidates, baselines)) return Optional.empty();
      BrownForsythe test = BrownForsythe.of(candidates, baselines);
      double sc = Sample.of(candidates).sd();
      double sb = Sample.of(baselines).sd();
      return Optional.of(
          new Spread(
              sc,
              sb,
              sb > 0 ? OptionalDouble.of(sc / sb) : OptionalDouble.empty(),
              test.f(),
              test.p(),
              split.spread()));
    }
  }
}
