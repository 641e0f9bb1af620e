package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import milewarden.statistics.BrownForsythe;
import milewarden.statistics.Contrast;
import milewarden.statistics.LeastSquares;
import milewarden.statistics.Permutation;
import milewarden.statistics.Sample;
import milewarden.statistics.UncertaintySum;
import milewarden.units.PercentRange;
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
 * The difference of two releases on given evidence: blocked least squares with one row per session,
 * the share of each condition as block, and the firmware.
 *
 * @param sd residual standard deviation between sessions; NaN where unknown
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
   * @param permute true where the permutation test can reach alpha
   * @param known the same look as it was taken before, if it was: the ways are not counted twice
   */
  record Rules(
      Policy policy,
      double alpha,
      double equivalenceLevel,
      boolean permute,
      Optional<Estimate> known,
      Optional<UnitVariance> others) {}

  /** Both sides hold a session. */
  static Difference of(
      Evidence c, Evidence b, Evidence controls, Source.Choice source, Rules rules) {
    Policy policy = rules.policy();
    Sides sides =
        new Sides(
            FigureSheet.of(c, Optional.empty(), policy, rules.others()),
            FigureSheet.of(b, Optional.empty(), policy, rules.others()));
    Set<Caution> cautions = new TreeSet<>();
    if (b.sessions().size() < policy.baselineSessions()) cautions.add(Caution.THIN_BASELINE);
    if (source.why() == Source.Why.NOTHING_FINER) cautions.add(Caution.DISPLAY_TOO_COARSE);
    if (oneDirection(c) || oneDirection(b)) cautions.add(Caution.ONE_DIRECTION);
    Fit fit = Fit.of(c, b, controls, policy, cautions);
    List<OfCondition> conditions = conditions(c, b, rules);
    Optional<Estimate> estimate =
        b.sessions().size() < 2
            ? Optional.empty()
            : fit.contrast().map(k -> estimate(withUnits(k, c, b, rules, cautions), fit, c, rules));
    Optional<Spread> spread = spread(fit, rules);
    Outcomes outcomes =
        new Outcomes(c, b, sides, source, estimate, conditions, spread, rules, cautions);
    return new Difference(
        c,
        b,
        sides,
        estimate,
        conditions,
        spread,
        outcomes.settle(),
        fit.sd(),
        rules.alpha(),
        cautions);
  }

  private static boolean oneDirection(Evidence e) {
    return e.sessions().stream()
        .anyMatch(s -> s.conditions().stream().anyMatch(SessionFigure.OfCondition::oneDirection));
  }

  /** Where the units differ, their variance is carried. */
  private static Contrast withUnits(
      Contrast k, Evidence c, Evidence b, Rules rules, Set<Caution> cautions) {
    if (c.units().stream().anyMatch(b.units()::contains)) return k;
    cautions.add(Caution.UNITS_DIFFER);
    Optional<UnitVariance> unit =
        FigureSheet.unitVariance(c, rules.policy(), rules.others())
            .or(() -> FigureSheet.unitVariance(b, rules.policy(), rules.others()));
    if (unit.isEmpty()) {
      cautions.add(Caution.UNIT_VARIANCE_UNKNOWN);
      return k;
    }
    UncertaintySum sum =
        UncertaintySum.NONE
            .plus(k.standardError() * k.standardError(), k.degreesOfFreedom())
            .plus(
                unit.get().variance() * (1.0 / c.units().size() + 1.0 / b.units().size()),
                unit.get().degreesOfFreedom());
    return new Contrast(
        k.estimate(), sum.standardUncertainty(), Math.min(1e9, sum.degreesOfFreedom()));
  }

  private static Estimate estimate(Contrast k, Fit fit, Evidence c, Rules rules) {
    double coarse = fit.source() == Source.SHOWN ? coarse(c, rules.policy()) : 0;
    OptionalDouble permutation = OptionalDouble.empty();
    if (rules.permute())
      permutation =
          known(k, rules)
              .orElseGet(() -> OptionalDouble.of(Permutation.p(fit.candidate(), fit.baseline())));
    return new Estimate(
        k.estimate(),
        k.standardError(),
        k.degreesOfFreedom(),
        around(k, 0.95, coarse),
        around(k, 1 - rules.alpha(), coarse),
        around(k, rules.equivalenceLevel(), coarse),
        k.p(),
        permutation,
        fit.welch(rules.policy())
            .map(w -> OptionalDouble.of(w.p()))
            .orElse(OptionalDouble.empty()));
  }

  private static Optional<OptionalDouble> known(Contrast k, Rules rules) {
    return rules
        .known()
        .filter(
            e ->
                e.percent() == k.estimate()
                    && e.standardError() == k.standardError()
                    && e.degreesOfFreedom() == k.degreesOfFreedom()
                    && e.permutationP().isPresent())
        .map(Estimate::permutationP);
  }

  /**
   * A display that is too coarse can hide, or invent, a step between two means: the interval is
   * widened by it. Where the step resolves the material change it is in the spread already.
   */
  private static double coarse(Evidence c, Policy policy) {
    double step = c.stepPercent();
    return step > policy.displayShare() * policy.materialChangePercent() ? step : 0;
  }

  private static PercentRange around(Contrast k, double level, double coarse) {
    double half = k.halfWidth(level) + coarse;
    return new PercentRange(k.estimate() - half, k.estimate() + half);
  }

  private static List<OfCondition> conditions(Evidence c, Evidence b, Rules rules) {
    List<Condition> all = c.conditions();
    Rules each =
        new Rules(
            rules.policy(),
            rules.alpha() / all.size(),
            rules.equivalenceLevel(),
            false,
            Optional.empty(),
            rules.others());
    List<OfCondition> found = new ArrayList<>();
    for (Condition condition : all) {
      Evidence cc = c.in(List.of(condition));
      Evidence bb = b.in(List.of(condition));
      Optional<Estimate> estimate = Optional.empty();
      if (cc.sessions().size() >= 2 && bb.sessions().size() >= 2) {
        Fit fit = Fit.plain(cc, bb);
        estimate =
            fit.contrast()
                .map(k -> estimate(withUnits(k, cc, bb, rules, new TreeSet<>()), fit, cc, each));
      }
      found.add(
          new OfCondition(
              condition,
              cc.sessions().size(),
              bb.sessions().size(),
              Sample.of(cc.means()).mean(),
              Sample.of(bb.means()).mean(),
              estimate));
    }
    return found;
  }

  private static Optional<Spread> spread(Fit fit, Rules rules) {
    double[] c = fit.candidate();
    double[] b = fit.baseline();
    if (c.length < 2 || b.length < 2 || c.length + b.length < 5) return Optional.empty();
    BrownForsythe test = BrownForsythe.of(c, b);
    double sc = Sample.of(c).sd();
    double sb = Sample.of(b).sd();
    return Optional.of(
        new Spread(
            sc,
            sb,
            sb > 0 ? OptionalDouble.of(sc / sb) : OptionalDouble.empty(),
            test.f(),
            test.p(),
            rules.alpha() / rules.policy().spreadAlpha()));
  }

  /**
   * The least squares fit.
   *
   * @param candidate the sessions' figures with the conditions' effects (and the control's) taken
   *     out, the firmware's left in
   * @param baseline likewise
   */
  record Fit(
      Source source,
      Optional<Contrast> contrast,
      double[] candidate,
      double[] baseline,
      double sd) {

    static Fit plain(Evidence c, Evidence b) {
      return fit(c, b, new double[0][], 0, new double[c.sessions().size() + b.sessions().size()]);
    }

    /** With the control unit as a covariate where enough sessions carried one. */
    static Fit of(Evidence c, Evidence b, Evidence controls, Policy policy, Set<Caution> cautions) {
      Map<String, Double> control = controlFigures(c, b, controls);
      Evidence cc = c.where(p -> control.containsKey(p.session()));
      Evidence bb = b.where(p -> control.containsKey(p.session()));
      int paired = cc.sessions().size() + bb.sessions().size();
      if (paired < policy.controlSessions()
          || cc.sessions().size() < c.sessions().size()
          || bb.sessions().size() < policy.insufficientSessions()) return plain(c, b);
      cautions.add(Caution.CONTROL_USED);
      if (bb.sessions().size() < b.sessions().size())
        cautions.add(Caution.SESSIONS_WITHOUT_CONTROL);
      double[] x = new double[paired];
      int i = 0;
      for (SessionFigure s : cc.sessions()) x[i++] = control.getOrDefault(s.session(), 0.0);
      for (SessionFigure s : bb.sessions()) x[i++] = control.getOrDefault(s.session(), 0.0);
      return adjusted(cc, bb, x);
    }

    private static Fit adjusted(Evidence c, Evidence b, double[] x) {
      double slope = slope(c, b, x);
      if (slope >= 0 && slope <= 1) return fit(c, b, new double[][] {x}, 0, x);
      // Beyond its bounds the slope is held there; its degree of freedom stays paid.
      return fit(c, b, new double[0][], slope < 0 ? 0 : 1, x);
    }

    private static double slope(Evidence c, Evidence b, double[] x) {
      double[][] shares = shares(c, b);
      double[][] others = new double[shares.length + 1][];
      System.arraycopy(shares, 0, others, 0, shares.length);
      others[shares.length] = firmware(c, b);
      return LeastSquares.coefficient(values(c, b), others, x).map(Contrast::estimate).orElse(0.0);
    }

    private static Fit fit(Evidence c, Evidence b, double[][] covariates, double held, double[] x) {
      double[] y = values(c, b);
      for (int i = 0; i < y.length; i++) y[i] -= held * x[i];
      double[][] shares = shares(c, b);
      double[][] others = new double[shares.length + covariates.length][];
      System.arraycopy(shares, 0, others, 0, shares.length);
      System.arraycopy(covariates, 0, others, shares.length, covariates.length);
      double[] firmware = firmware(c, b);
      Optional<Contrast> contrast = LeastSquares.coefficient(y, others, firmware);
      boolean paid = covariates.length == 0 && nonZero(x);
      if (paid) contrast = contrast.filter(k -> k.degreesOfFreedom() > 1).map(Fit::oneLess);
      double d = contrast.map(Contrast::estimate).orElse(0.0);
      for (int i = 0; i < y.length; i++) y[i] -= d * firmware[i];
      double[] rest = LeastSquares.residuals(y, others);
      double squares = 0;
      for (double r : rest) squares += r * r;
      for (int i = 0; i < y.length; i++) rest[i] += d * firmware[i];
      int n = c.sessions().size();
      return new Fit(
          c.source(),
          contrast,
          java.util.Arrays.copyOfRange(rest, 0, n),
          java.util.Arrays.copyOfRange(rest, n, rest.length),
          contrast.isPresent()
              ? Math.sqrt(squares / contrast.get().degreesOfFreedom())
              : Double.NaN);
    }

    private static Contrast oneLess(Contrast k) {
      double df = k.degreesOfFreedom();
      return new Contrast(k.estimate(), k.standardError() * Math.sqrt(df / (df - 1)), df - 1);
    }

    private static boolean nonZero(double[] x) {
      for (double v : x) if (v != 0) return true;
      return false;
    }

    private static double[] values(Evidence c, Evidence b) {
      double[] y = java.util.Arrays.copyOf(c.means(), c.sessions().size() + b.sessions().size());
      System.arraycopy(b.means(), 0, y, c.sessions().size(), b.sessions().size());
      return y;
    }

    private static double[][] shares(Evidence c, Evidence b) {
      List<Condition> all = new ArrayList<>(c.conditions());
      for (Condition k : b.conditions()) if (!all.contains(k)) all.add(k);
      double[][] first = c.shares(all);
      double[][] second = b.shares(all);
      double[][] both = new double[all.size()][];
      for (int k = 0; k < both.length; k++) {
        both[k] = java.util.Arrays.copyOf(first[k], first[k].length + second[k].length);
        System.arraycopy(second[k], 0, both[k], first[k].length, second[k].length);
      }
      return both;
    }

    private static double[] firmware(Evidence c, Evidence b) {
      double[] column = new double[c.sessions().size() + b.sessions().size()];
      java.util.Arrays.fill(column, 0, c.sessions().size(), 1);
      return column;
    }

    /** The control units' figure of each session, in the conditions that the session holds. */
    private static Map<String, Double> controlFigures(Evidence c, Evidence b, Evidence controls) {
      Map<String, Double> figures = new HashMap<>();
      Set<Condition> wanted = new java.util.HashSet<>(c.conditions());
      wanted.addAll(b.conditions());
      for (SessionFigure s : controls.in(wanted).sessions())
        figures.put(s.session(), s.meanPercent());
      return figures;
    }

    /** Welch's test where the standard deviations differ by more than the policy's ratio. */
    Optional<Contrast> welch(Policy policy) {
      if (candidate.length < 2 || baseline.length < 2) return Optional.empty();
      Sample c = Sample.of(candidate);
      Sample b = Sample.of(baseline);
      double more = Math.max(c.sd(), b.sd());
      double less = Math.min(c.sd(), b.sd());
      if (more <= policy.standardRatio() * less) return Optional.empty();
      return Optional.of(Contrast.welch(c, b));
    }
  }
}
