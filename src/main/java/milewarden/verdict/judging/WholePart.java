package milewarden.verdict.judging;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;

/**
 * The passes of a release of which no more is to be expected. The threshold and the decisions for
 * purposes rest on them alone: files of one session that come in minutes apart, in whatever order,
 * then move them once.
 *
 * @param until when the first of the sessions that are waited for is whole; empty where none is
 */
record WholePart(List<PassEvidence> passes, Optional<Instant> until) {
  WholePart {
    passes = List.copyOf(passes);
  }

  static WholePart of(
      List<PassEvidence> release, ModelHistory history, Policy policy, Instant now) {
    if (history.arrivals().last().isEmpty()) return new WholePart(release, Optional.empty());
    Duration quiet = Duration.ofMinutes(policy.lookQuietMinutes());
    Instant begun = history.latestStart().orElse(now);
    Map<String, Instant> waiting = new HashMap<>();
    for (PassEvidence p : release)
      if (p.exclusion().isEmpty())
        history
            .arrivals()
            .wholeAt(p.session(), quiet, begun, now)
            .ifPresent(at -> waiting.put(p.session(), at));
    if (waiting.isEmpty()) return new WholePart(release, Optional.empty());
    Set<Long> settled = published(history);
    for (String session : waiting.keySet())
      settled.addAll(history.arrivals().whenLastWhole(session, quiet, begun));
    List<PassEvidence> kept = new ArrayList<>();
    for (PassEvidence p : release)
      if (!waiting.containsKey(p.session()) || settled.contains(p.resultId())) kept.add(p);
    return new WholePart(kept, waiting.values().stream().min(Instant::compareTo));
  }

  /** What the standing verdict rests on is waited for no more: its publisher took it for whole. */
  private static Set<Long> published(ModelHistory history) {
    Set<Long> results = new HashSet<>();
    history
        .standing()
        .ifPresent(
            v -> {
              for (PublishedVerdict.RunUsed run : v.runs()) results.add(run.resultId());
            });
    return results;
  }
}
