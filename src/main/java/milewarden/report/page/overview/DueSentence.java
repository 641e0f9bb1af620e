package milewarden.report.page.overview;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import milewarden.verdict.DueItem;

/** What is due, counted in one sentence: 'Two verdicts no longer hold; one release waits ...'. */
final class DueSentence {
  // Small counts are written out, as in a letter (common practice, no source).
  private static final List<String> SMALL =
      List.of("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten");

  private DueSentence() {}

  static String of(List<DueItem> items) {
    if (items.isEmpty()) return "Nothing is due.";
    List<String> parts = new ArrayList<>();
    long update =
        items.stream()
            .filter(i -> i.kind() == DueItem.Kind.VERDICT_UPDATE_DUE)
            .map(i -> i.model() + " " + i.firmware())
            .distinct()
            .count();
    long untested = count(items, DueItem.Cause.NEWER_FIRMWARE);
    long other =
        items.stream()
            .filter(i -> i.kind() == DueItem.Kind.RETEST_DUE)
            .filter(i -> i.cause() != DueItem.Cause.NEWER_FIRMWARE)
            .count();
    if (update > 0)
      parts.add(counted(update, "release asks", "releases ask") + " for a new verdict");
    if (untested > 0)
      parts.add(counted(untested, "new release waits", "new releases wait") + " for a test");
    if (other > 0) parts.add(counted(other, "retest is", "retests are") + " due");
    String text = String.join("; ", parts);
    return text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1) + ".";
  }

  private static long count(List<DueItem> items, DueItem.Cause cause) {
    return items.stream().filter(i -> i.cause() == cause).count();
  }

  private static String counted(long n, String one, String many) {
    String number = n < SMALL.size() ? SMALL.get((int) n) : String.valueOf(n);
    return number + " " + (n == 1 ? one : many);
  }
}
