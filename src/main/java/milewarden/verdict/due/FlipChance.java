package milewarden.verdict.due;

import java.util.OptionalDouble;
import milewarden.statistics.Distributions;
import milewarden.verdict.Comparison;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import milewarden.verdict.comparing.AlphaSplit;

/**
 * The chance that the next look at a comparison takes the verdict away: that it says worse, better
 * or changed.
 *
 * <p>Assumed: sessions are independent and normal with one spread; nothing is known of the change
 * but what the sessions say (a flat prior); the pooled difference decides; the sign of the mean
 * error does not turn. Then the estimate at the next look is today's plus a t-distributed step,
 * whose variance is what the squared standard error loses, and the spread stays about what it is.
 *
 * @see "Spiegelhalter, Freedman and Blackburn (1986), Controlled Clinical Trials 7, 8-17:
 *     predictive power"
 */
final class FlipChance {
  private FlipChance() {}

  /** Empty where no look is to come, or nothing is known yet. */
  static OptionalDouble of(Comparison c, Policy policy) {
    if (c.estimate().isEmpty() || c.nextLookAt().isEmpty()) return OptionalDouble.empty();
    int next = c.nextLookAt().getAsInt();
    LookPlan plan =
        policy.looks().stream().filter(p -> p.sessions() == next).findFirst().orElseThrow();
    double alpha = c.against() == Comparison.Against.ANCHOR ? plan.alpha() : plan.alpha() / 2;
    int have = Math.max(1, c.sides().map(s -> s.candidate().sessions()).orElse(1));
    double pooled = AlphaSplit.of(alpha, Math.max(1, c.conditions().size()), policy).pooled();
    return of(
        c.estimate().get(),
        have,
        Math.max(1, c.baselineSessions()),
        next,
        pooled,
        plan.equivalenceLevel(),
        policy.materialChangePercent());
  }

  /**
   * @param have candidate's sessions in the estimate
   * @param base baseline's sessions
   * @param next candidate's sessions at the next look
   */
  static OptionalDouble of(
      Comparison.Estimate e,
      int have,
      int base,
      int next,
      double alpha,
      double equivalenceLevel,
      double material) {
    double shrink = (1.0 / next + 1.0 / base) / (1.0 / have + 1.0 / base);
    if (!(shrink < 1) || !(e.standardError() > 0)) return OptionalDouble.empty();
    double then = e.standardError() * Math.sqrt(shrink);
    double step = e.standardError() * Math.sqrt(1 - shrink);
    double df = e.degreesOfFreedom() + next - have;
    // Real: the interval excludes 0. What is real and yet equivalent changes nothing in public.
    double real = then * Distributions.tFactor(1 - alpha, df);
    double beyond = material - then * Distributions.tFactor(equivalenceLevel, df);
    double bar = Math.max(real, beyond);
    double above = Distributions.tCdf((e.percent() - bar) / step, e.degreesOfFreedom());
    double below = Distributions.tCdf((-e.percent() - bar) / step, e.degreesOfFreedom());
    return OptionalDouble.of(above + below);
  }
}
