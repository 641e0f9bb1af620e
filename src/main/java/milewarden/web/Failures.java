package milewarden.web;

import java.util.Locale;
import java.util.Optional;
import milewarden.report.ProblemPage;
import milewarden.report.StoreWords;
import milewarden.store.StoreUnavailable;
import milewarden.store.Unreadable;

/** What stands behind an exception that reached the edge of a request. */
final class Failures {
  private Failures() {}

  static ProblemPage page(StoreUnavailable e) {
    return ProblemPage.withoutStore(
        switch (e.kind()) {
          case FULL -> StoreWords.full();
          case BUSY, IN_USE -> StoreWords.busy();
          case READ_ONLY -> StoreWords.readOnly();
          case DAMAGED -> StoreWords.damaged();
          case UNREACHABLE, NEWER, OLDER -> StoreWords.unreachable();
        });
  }

  /** The record in the store that can't be read, where that is why. */
  static Optional<String> damaged(Throwable thrown) {
    for (Throwable t = thrown; t != null; t = t.getCause())
      if (t instanceof Unreadable u) return Optional.of(u.record());
    return Optional.empty();
  }

  /**
   * Status of what the server library throws on bodies, which it tells apart by words alone; 500
   * where it is something else.
   */
  static int sizeOrFormStatus(Throwable thrown) {
    StringBuilder all = new StringBuilder();
    for (Throwable t = thrown; t != null; t = t.getCause())
      all.append(t.getClass().getName()).append(' ').append(t.getMessage()).append('\n');
    String text = all.toString().toLowerCase(Locale.ROOT);
    if (!text.contains("badmessage") && !text.contains("multipart")) return 500;
    boolean tooMuch =
        text.contains("exceed") || text.contains("too large") || text.contains("too many keys");
    return tooMuch ? 413 : 400;
  }
}
