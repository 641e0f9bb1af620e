package milewarden.report.page;

import java.util.List;

/** What do I do next? Open items most pressing first, then those closed lately. */
public record DuePage(String sentence, List<DueEntry> open, List<DueEntry> closed) {
  public DuePage {
    open = List.copyOf(open);
    closed = List.copyOf(closed);
  }
}
