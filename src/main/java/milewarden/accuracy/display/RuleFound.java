package milewarden.accuracy.display;

import java.util.Map;
import java.util.Optional;

/**
 * What the readings of many passes say of a display's rule.
 *
 * @param said the rule that they settle; empty where they don't
 * @param probability of each rule, having been 0.4 each for rounding and cutting off before; they
 *     add up to 1
 * @param readings how many readings there were
 * @param insideCutOff how many lie where cutting off puts them, 0 to 1 steps below the recorded
 *     distance
 * @param chanceIfRounded 2 to the power of minus {@code readings} where all lie inside: how often a
 *     display that rounds would do that by chance; 1 where not all do
 */
public record RuleFound(
    Optional<DisplayRule> said,
    Map<DisplayRule, Double> probability,
    int readings,
    int insideCutOff,
    double chanceIfRounded) {
  public RuleFound {
    probability = Map.copyOf(probability);
  }

  /** The most probable rule's probability. */
  public double highest() {
    return probability.values().stream().mapToDouble(Double::doubleValue).max().orElse(0);
  }
}
