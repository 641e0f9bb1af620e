package milewarden.format.fixes;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.track.Issue;

/** Counts every issue exactly and keeps the first few of each kind with their places. */
public final class IssueLog {
  /** Enough to find the spot in a file; the counts are exact anyhow. */
  private static final int DETAILS_PER_KIND = 3;

  private static final int DETAIL_LENGTH = 80;

  private final EnumMap<Issue.Kind, Integer> counts = new EnumMap<>(Issue.Kind.class);
  private final List<Issue> details = new ArrayList<>();

  /** The place is asked for only where it is kept: finding it costs more than counting. */
  public void add(Issue.Kind kind, Supplier<String> place, String detail) {
    int count = counts.merge(kind, 1, Integer::sum);
    if (count <= DETAILS_PER_KIND)
      details.add(new Issue(kind, Optional.of(place.get()), shortened(detail)));
  }

  /** Takes back what was said of this kind: the file's end showed it in another light. */
  void forget(Issue.Kind kind) {
    counts.remove(kind);
    details.removeIf(i -> i.kind() == kind);
  }

  public Map<Issue.Kind, Integer> counts() {
    return counts;
  }

  public List<Issue> details() {
    return details;
  }

  /** One line of at most 80 characters. */
  public static String shortened(String text) {
    String line = text.replaceAll("[\\s\\p{Cntrl}]+", " ").strip();
    return line.length() <= DETAIL_LENGTH ? line : line.substring(0, DETAIL_LENGTH - 3) + "...";
  }
}
