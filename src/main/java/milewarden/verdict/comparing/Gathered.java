package milewarden.verdict.comparing;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;

/**
 * What is known of a model as all that is to be said of it asks for it, over and over: each part is
 * gathered when it is first asked for. For one thread.
 */
public final class Gathered {
  private record Part(String version, Source source) {}

  private final ModelHistory history;
  private final Policy policy;
  private final Map<String, List<PassEvidence>> passes = new HashMap<>();
  private final Map<Part, Evidence> evidence = new HashMap<>();
  private Optional<Controls> controls = Optional.empty();

  public Gathered(ModelHistory history, Policy policy) {
    this.history = history;
    this.policy = policy;
  }

  ModelHistory history() {
    return history;
  }

  Policy policy() {
    return policy;
  }

  /** As {@link ModelHistory#passesOf}. */
  public List<PassEvidence> passesOf(String version) {
    return passes.computeIfAbsent(version, history::passesOf);
  }

  /** The model's own passes under this firmware, by this source. */
  public Evidence evidence(String version, Source source) {
    return evidence.computeIfAbsent(
        new Part(version, source), k -> Evidence.of(source, passesOf(version)));
  }

  /** The same by the source that tells a material change. */
  public Evidence evidence(String version) {
    return evidence(
        version,
        Source.choose(List.of(passesOf(version)), policy.materialChangePercent(), policy).source());
  }

  Controls controls() {
    if (controls.isEmpty()) controls = Optional.of(Controls.of(history.controlPasses(), policy));
    return controls.get();
  }
}
