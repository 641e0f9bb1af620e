package milewarden.track;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * What was seen, kept and dropped while reading a file.
 *
 * @param seen fixes begun in the file
 * @param kept fixes in the track
 * @param counts exact counts of every issue
 * @param details the first few issues with their places; capped
 */
public record Drops(int seen, int kept, Map<Issue.Kind, Integer> counts, List<Issue> details) {
  public Drops {
    counts = Map.copyOf(counts);
    details = List.copyOf(details);
  }

  /** These, and one more issue of the whole file. */
  public Drops with(Issue issue) {
    Map<Issue.Kind, Integer> more = new EnumMap<>(Issue.Kind.class);
    more.putAll(counts);
    more.merge(issue.kind(), 1, Integer::sum);
    List<Issue> told = new ArrayList<>(details);
    told.add(issue);
    return new Drops(seen, kept, more, told);
  }

  public int count(Issue.Kind kind) {
    return counts.getOrDefault(kind, 0);
  }

  /** Fixes that were begun in the file and not kept. */
  public int dropped() {
    int sum = 0;
    for (Map.Entry<Issue.Kind, Integer> e : counts.entrySet())
      if (e.getKey().dropsFix()) sum += e.getValue();
    return sum;
  }

  /** The file broke off; what was read up to there was kept. */
  public boolean truncated() {
    return count(Issue.Kind.TRUNCATED) > 0;
  }
}
