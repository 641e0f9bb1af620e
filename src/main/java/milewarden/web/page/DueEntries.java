package milewarden.web.page;

import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import milewarden.report.Digits;
import milewarden.report.page.DueEntry;
import milewarden.report.page.Links;
import milewarden.store.judged.DueItems;
import milewarden.verdict.DueItem;

/** Stored due items as entries of a page. */
final class DueEntries {
  private DueEntries() {}

  /** Most pressing first, then the oldest. */
  static List<DueItems.Due> sorted(List<DueItems.Due> items) {
    return items.stream()
        .sorted(
            Comparator.comparing((DueItems.Due d) -> d.item().severity())
                .thenComparing(DueItems.Due::raisedAt))
        .toList();
  }

  static List<DueItem> items(List<DueItems.Due> due) {
    return due.stream().map(DueItems.Due::item).toList();
  }

  static List<DueEntry> of(Stream<DueItems.Due> items, Digits digits) {
    return items.map(d -> of(d, digits)).toList();
  }

  private static DueEntry of(DueItems.Due due, Digits digits) {
    DueEntry entry =
        DueEntry.of(
            due.id().value(),
            due.item(),
            Links.model(due.model().value()),
            digits.date(due.raisedAt()),
            due.closed().map(c -> closing(c, digits)).orElse(""),
            digits);
    return due.whole() ? entry : entry.unread();
  }

  private static String closing(DueItems.Closing c, Digits digits) {
    String when = "Closed on " + digits.date(c.at());
    // The judge closes without a word what has no cause any more.
    return c.words().isBlank()
        ? when + ": its cause is gone."
        : when + " by " + c.by() + ": " + c.words();
  }
}
