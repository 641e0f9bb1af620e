package milewarden.verdict;

import java.util.EnumMap;
import java.util.Map;
import milewarden.verdict.PassEvidence.Exclusion.Reason;

/**
 * How often a device did its work at all, beside how accurately: the runs of one release, and those
 * that failed by the device's doing.
 *
 * @param runs all that were made, failed ones too
 * @param faults failed runs by their reason; only reasons that are device faults
 */
public record Reliability(String firmware, int runs, Map<Reason, Integer> faults) {
  public Reliability {
    faults = Map.copyOf(faults);
    for (Reason r : faults.keySet())
      if (!r.deviceFault()) throw new IllegalArgumentException("no fault of a device: " + r);
  }

  /** Failed runs of every kind. */
  public int failed() {
    int sum = 0;
    for (int n : faults.values()) sum += n;
    return sum;
  }

  /** In the order of the reasons. */
  public Map<Reason, Integer> ordered() {
    Map<Reason, Integer> ordered = new EnumMap<>(Reason.class);
    ordered.putAll(faults);
    return ordered;
  }
}
