package milewarden.verdict.comparing;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.statistics.Power;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;

/**
 * What a comparison that is not settled can find, and what it would take.
 *
 * @param have the candidate's sessions
 */
record StillNeeded(Policy policy, Against against, int have) {
  /** Of a look, for all its tests together; half of it against the release before. */
  static double alpha(LookPlan plan, Against against) {
    return against == Against.ANCHOR ? plan.alpha() : plan.alpha() / 2;
  }

  /** The change that would be found with the policy's power; empty where unknown. */
  OptionalDouble detectable(Difference d) {
    if (d.estimate().isEmpty()) return OptionalDouble.empty();
    Comparison.Estimate e = d.estimate().get();
    double errors = Power.detectable(e.degreesOfFreedom(), d.alpha(), policy.power());
    return OptionalDouble.of(errors * e.standardError());
  }

  /** Sessions still to be run: to the next look, and to find the material change at the last. */
  OptionalInt needed(Optional<Difference> d, OptionalInt next) {
    int toLook = next.isPresent() ? Math.max(0, next.getAsInt() - have) : 0;
    if (d.isEmpty() || !(d.get().sd() > 0))
      return next.isPresent() ? OptionalInt.of(toLook) : OptionalInt.empty();
    LookPlan lastPlan = policy.looks().get(policy.looks().size() - 1);
    OptionalInt total =
        Power.sessionsAgainst(
            policy.materialChangePercent() / d.get().sd(),
            d.get().baseline().sessions().size(),
            AlphaSplit.of(alpha(lastPlan, against), d.get().conditions().size(), policy).pooled(),
            policy.power());
    if (total.isEmpty()) return toLook > 0 ? OptionalInt.of(toLook) : OptionalInt.empty();
    return OptionalInt.of(Math.max(toLook, total.getAsInt() - have));
  }
}
