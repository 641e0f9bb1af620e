package milewarden.verdict.judging;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.FalseDiscovery;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.comparing.OverallP;

/**
 * Many models at once: which of the changes that were called stand when, of all that stand, no
 * larger share than the policy's is to be false. A model's own judgement stays as it is.
 *
 * @param tests the models whose newest release had a look
 * @param stands by model, for those whose newest comparison called a change
 */
public record ManyModels<K>(int tests, Map<K, Boolean> stands) {
  public ManyModels {
    stands = Map.copyOf(stands);
  }

  /** By Benjamini and Hochberg, at the policy's share. */
  public static <K> ManyModels<K> of(Map<K, ? extends Findings> models, Policy policy) {
    Map<K, Findings.OfComparison> newest = new LinkedHashMap<>();
    Map<K, Double> p = new LinkedHashMap<>();
    models.forEach(
        (model, judged) ->
            newest(judged)
                .ifPresent(
                    c -> {
                      OptionalDouble overall = OverallP.of(c, policy);
                      if (overall.isEmpty()) return;
                      newest.put(model, c);
                      p.put(model, overall.getAsDouble());
                    }));
    double[] values = p.values().stream().mapToDouble(Double::doubleValue).toArray();
    boolean[] stands = FalseDiscovery.benjaminiHochberg(values, policy.falseDiscovery());
    Map<K, Boolean> called = new LinkedHashMap<>();
    int i = 0;
    for (Map.Entry<K, Findings.OfComparison> e : newest.entrySet()) {
      boolean stand = stands[i++];
      Outcome outcome = e.getValue().outcome();
      if (outcome != Outcome.EQUIVALENT && outcome != Outcome.NOT_SETTLED)
        called.put(e.getKey(), stand);
    }
    return new ManyModels<>(values.length, called);
  }

  /** The newest release's comparison with the anchor. */
  private static Optional<Findings.OfComparison> newest(Findings judged) {
    return judged.comparisons().stream()
        .<Findings.OfComparison>map(c -> c)
        .filter(c -> c.against() == Against.ANCHOR && !c.looks().isEmpty())
        .reduce((a, b) -> b);
  }

  /** Whether the model's change stands; empty where none was called. */
  public Optional<Boolean> of(K model) {
    return Optional.ofNullable(stands.get(model));
  }
}
