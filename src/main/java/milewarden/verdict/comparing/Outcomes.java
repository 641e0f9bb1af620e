package milewarden.verdict.comparing;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.statistics.Distributions;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Caution;
import milewarden.verdict.Comparison.Estimate;
import milewarden.verdict.Comparison.OfCondition;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Comparison.Sides;
import milewarden.verdict.Comparison.Spread;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.Policy.Purpose;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Deciding;
import milewarden.verdict.figures.Evidence;

/** Gives the outcome of a look: worse, better, equivalent, changed, in this order, or none. */
record Outcomes(
    Evidence candidate,
    Evidence baseline,
    Sides sides,
    Source.Choice source,
    Optional<Estimate> estimate,
    List<OfCondition> conditions,
    Optional<Spread> spread,
    AlphaSplit split,
    Difference.Rules rules,
    Set<Caution> cautions) {

  Difference.Verdict settle() {
    if (estimate.isEmpty())
      return notSettled(
          baseline.sessions().size() < rules.policy().insufficientSessions()
              ? Because.BASELINE_TOO_THIN
              : Because.NO_DEGREES_OF_FREEDOM);
    if (baseline.sessions().size() < rules.policy().insufficientSessions())
      return notSettled(Because.BASELINE_TOO_THIN);
    if (cautions.contains(Caution.UNIT_VARIANCE_UNKNOWN))
      return notSettled(Because.UNITS_CANNOT_BE_TOLD_APART);
    Estimate e = estimate.get();
    boolean real = real(e, split.pooled());
    boolean disagree =
        e.welchP().isPresent()
            && excludesZero(e.decisionInterval()) != (e.welchP().getAsDouble() < split.pooled());
    if (e.welchP().isPresent()) cautions.add(Caution.UNEQUAL_SPREAD);
    Optional<Difference.Verdict> found =
        mean(e, real).or(this::inACondition).or(this::spreadChanged).or(this::equivalent);
    if (found.isPresent()) return found.get();
    if (real) return new Difference.Verdict(Outcome.CHANGED, Because.DIFFERENCE_IS_REAL);
    return notSettled(disagree ? Because.TESTS_DISAGREE : Because.INTERVAL_TOO_WIDE);
  }

  private static Difference.Verdict notSettled(Because because) {
    return new Difference.Verdict(Outcome.NOT_SETTLED, because);
  }

  /** Where the standard deviations differ, both tests must say so. */
  static boolean real(Estimate e, double alpha) {
    return excludesZero(e.decisionInterval())
        && (e.welchP().isEmpty() || e.welchP().getAsDouble() < alpha);
  }

  private static boolean excludesZero(PercentRange r) {
    return r.low() > 0 || r.high() < 0;
  }

  /** Worse or better by the pooled mean, or by a purpose that the change turns. */
  private Optional<Difference.Verdict> mean(Estimate e, boolean real) {
    if (!real) return Optional.empty();
    double before = sides.baseline().meanPercent();
    int grew = grew(e, before, split.pooled());
    double growth = Math.abs(before + e.percent()) - Math.abs(before);
    boolean material = Math.abs(growth) > rules.policy().materialChangePercent();
    if (grew > 0 && material)
      return Optional.of(new Difference.Verdict(Outcome.WORSE, Because.MEAN_ERROR_GREW));
    // Worse somewhere is worse, whatever the pooled mean says.
    Optional<Difference.Verdict> somewhere = worseInACondition();
    if (somewhere.isPresent()) return somewhere;
    if (grew > 0 && turns(baseline, candidate))
      return Optional.of(new Difference.Verdict(Outcome.WORSE, Because.A_PURPOSE_FAILS));
    if (grew < 0 && material)
      return Optional.of(new Difference.Verdict(Outcome.BETTER, Because.MEAN_ERROR_SHRANK));
    if (grew < 0 && turns(candidate, baseline))
      return Optional.of(new Difference.Verdict(Outcome.BETTER, Because.A_PURPOSE_NO_LONGER_FAILS));
    return Optional.empty();
  }

  /**
   * Whether the size of the mean error grew (1), shrank (-1), or can't be said to (0). Where the
   * sign turned, the change of the size is a sum of the two means, and the reference's uncertainty
   * no longer cancels.
   */
  private int grew(Estimate e, double before, double alpha) {
    double after = before + e.percent();
    double growth = Math.abs(after) - Math.abs(before);
    if (before * after >= 0) return (int) Math.signum(growth);
    double reference = 2 * sides.baseline().referenceStandardUncertaintyPercent();
    double error = Math.hypot(e.standardError(), reference);
    double half = error * Distributions.tFactor(1 - alpha, e.degreesOfFreedom());
    return Math.abs(growth) > half ? (int) Math.signum(growth) : 0;
  }

  /** True where a purpose's decision is fail on the second and was not on the first. */
  private boolean turns(Evidence first, Evidence second) {
    for (Purpose purpose : rules.policy().purposes()) {
      Decision was = decision(first, purpose);
      Decision is = decision(second, purpose);
      if (was.decided() && was != Decision.FAIL && is == Decision.FAIL) return true;
    }
    return false;
  }

  private Decision decision(Evidence e, Purpose purpose) {
    return Deciding.conformity(e, purpose, source, rules.policy(), rules.others()).decision();
  }

  private Optional<Difference.Verdict> inACondition() {
    Optional<Difference.Verdict> worse = worseInACondition();
    if (worse.isPresent()) return worse;
    return conditions.size() > 1 && conditions.stream().anyMatch(c -> moved(c) < 0)
        ? Optional.of(new Difference.Verdict(Outcome.BETTER, Because.SHRANK_IN_A_CONDITION))
        : Optional.empty();
  }

  private Optional<Difference.Verdict> worseInACondition() {
    return conditions.size() > 1 && conditions.stream().anyMatch(c -> moved(c) > 0)
        ? Optional.of(new Difference.Verdict(Outcome.WORSE, Because.GREW_IN_A_CONDITION))
        : Optional.empty();
  }

  /**
   * 1 where the condition's mean error grew by more than the material change, -1 shrank, else 0.
   */
  private int moved(OfCondition c) {
    if (c.estimate().isEmpty()) return 0;
    Estimate e = c.estimate().get();
    double alpha = real(estimate.orElseThrow(), split.pooled()) ? split.named() : split.each();
    if (!real(e, alpha)) return 0;
    double growth =
        Math.abs(c.baselineMeanPercent() + e.percent()) - Math.abs(c.baselineMeanPercent());
    if (Math.abs(growth) <= rules.policy().materialChangePercent()) return 0;
    return grew(e, c.baselineMeanPercent(), alpha);
  }

  private Optional<Difference.Verdict> spreadChanged() {
    if (spread.isEmpty() || spread.get().p() >= spread.get().alpha()) return Optional.empty();
    boolean more = spread.get().candidateSdPercent() > spread.get().baselineSdPercent();
    return Optional.of(
        new Difference.Verdict(
            Outcome.CHANGED, more ? Because.SPREAD_GREW : Because.SPREAD_SHRANK));
  }

  /** Within the material change, pooled and in every condition. */
  private Optional<Difference.Verdict> equivalent() {
    if (!within(estimate)) return Optional.empty();
    if (conditions.size() > 1)
      for (OfCondition c : conditions) if (!within(c.estimate())) return Optional.empty();
    boolean real = excludesZero(estimate.orElseThrow().equivalenceInterval());
    return Optional.of(
        new Difference.Verdict(
            Outcome.EQUIVALENT, real ? Because.SMALL_BUT_REAL : Because.WITHIN_MATERIAL_CHANGE));
  }

  private boolean within(Optional<Estimate> e) {
    double margin = rules.policy().materialChangePercent();
    return e.isPresent()
        && e.get().equivalenceInterval().low() > -margin
        && e.get().equivalenceInterval().high() < margin;
  }
}
