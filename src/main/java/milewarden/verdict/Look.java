package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A look at a comparison that was taken. It keeps its evidence; where runs came late or were newly
 * excluded, a re-look with a date of its own stands beside it.
 *
 * @param number from 1
 * @param sessions the candidate's sessions at which it is taken
 * @param alpha what the pooled difference was held against: the look's share of the false alarms,
 *     less what the tests of several conditions take; halved against the release before
 * @param takenAt when the judge took it
 * @param reLook true where an earlier look of this number had other evidence
 * @param candidateResults evidence, ascending
 * @param baselineResults evidence, ascending; frozen by the first look
 * @param spread empty where it could not be tested
 * @param beside true where it was taken on other sessions than the look that decides, because late
 *     ones began before those: it is shown and decides nothing
 * @param drawn the sessions that it was taken on; empty in records from before they were kept
 */
public record Look(
    String candidate,
    String baseline,
    Comparison.Against against,
    int number,
    int sessions,
    double alpha,
    Instant takenAt,
    boolean reLook,
    Source.Choice source,
    List<Long> candidateResults,
    List<Long> baselineResults,
    Comparison.Sides sides,
    Comparison.Estimate estimate,
    List<Comparison.OfCondition> conditions,
    Optional<Comparison.Spread> spread,
    Comparison.Outcome outcome,
    Comparison.Because because,
    boolean beside,
    Optional<Drawn> drawn)
    implements Findings.OfLook {
  public Look {
    candidateResults = List.copyOf(candidateResults);
    baselineResults = List.copyOf(baselineResults);
    conditions = List.copyOf(conditions);
  }

  /** Sessions by key, in order of start. */
  public record Drawn(List<String> candidate, List<String> baseline) {
    public Drawn {
      candidate = List.copyOf(candidate);
      baseline = List.copyOf(baseline);
    }
  }
}
