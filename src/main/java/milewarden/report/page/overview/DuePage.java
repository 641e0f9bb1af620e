package milewarden.report.page.overview;

import java.util.List;
import milewarden.report.page.DueEntry;
import milewarden.report.page.PageLink;
import milewarden.verdict.DueItem;

/** What do I do next? Open items most pressing first, then those closed lately. */
public record DuePage(
    String sentence, List<PageLink> kinds, List<DueEntry> open, List<DueEntry> closed) {
  public DuePage {
    kinds = List.copyOf(kinds);
    open = List.copyOf(open);
    closed = List.copyOf(closed);
  }

  /** The page of these items; {@code open} are their entries in the same order. */
  public static DuePage of(
      List<DueItem> items, List<PageLink> kinds, List<DueEntry> open, List<DueEntry> closed) {
    return new DuePage(DueSentence.of(items), kinds, open, closed);
  }
}
