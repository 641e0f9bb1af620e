package milewarden.verdict.comparing;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;

/**
 * One p for a whole comparison with all its looks and tests: the least p of any, each against its
 * own share of alpha, times the sum of the shares. Below that sum exactly where some test called.
 * Never too small, since chances add up at most.
 *
 * @see "Holm (1979), Scandinavian J. Statistics 6, 65-70: weighted Bonferroni"
 */
public final class OverallP {
  private OverallP() {}

  /** Empty before the first look. */
  public static OptionalDouble of(Findings.OfComparison c, Policy policy) {
    double least = Double.POSITIVE_INFINITY;
    double shares = 0;
    for (int i = 0; i < policy.looks().size(); i++) {
      LookPlan plan = policy.looks().get(i);
      double alpha = c.against() == Against.ANCHOR ? plan.alpha() : plan.alpha() / 2;
      shares += alpha * (1 + 1 / policy.spreadAlpha());
      int number = i + 1;
      Optional<? extends Findings.OfLook> newest = newest(c.looks(), number);
      if (newest.isPresent()) least = Math.min(least, least(newest.get(), alpha, policy));
    }
    return Double.isInfinite(least)
        ? OptionalDouble.empty()
        : OptionalDouble.of(Math.min(1, least * shares));
  }

  private static <L extends Findings.OfLook> Optional<L> newest(List<L> looks, int number) {
    return looks.stream().filter(l -> l.number() == number).reduce((a, b) -> b);
  }

  private static double least(Findings.OfLook look, double alpha, Policy policy) {
    AlphaSplit split = AlphaSplit.of(alpha, Math.max(1, look.conditions().size()), policy);
    double least = p(look.estimate()) / split.pooled();
    if (look.conditions().size() > 1)
      for (Comparison.OfCondition each : look.conditions())
        if (each.estimate().isPresent())
          least = Math.min(least, p(each.estimate().get()) / split.each());
    if (look.spread().isPresent())
      least = Math.min(least, look.spread().get().p() / split.spread());
    return least;
  }

  private static double p(Comparison.Estimate e) {
    return Math.max(e.p(), e.welchP().orElse(0));
  }
}
