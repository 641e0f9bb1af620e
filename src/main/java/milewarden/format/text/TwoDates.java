package milewarden.format.text;

import java.util.Arrays;
import java.util.Optional;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.track.Issue;
import milewarden.track.Track;

/**
 * Both readings of a file's dates, day first and month first, until it is over. One of them stands
 * where the other is no date in some row. Where both stand and differ, no time is used: a wrong
 * month would put the runs into another session.
 */
final class TwoDates {
  private long[] monthFirst = new long[256];
  private int size;
  private boolean differ;
  private boolean dayFirstFails;
  private boolean monthFirstFails;

  /** The time of the fix kept last. */
  void add(CellTime time) {
    if (size == monthFirst.length) monthFirst = Arrays.copyOf(monthFirst, size + (size >> 1));
    monthFirst[size++] = time.monthFirstMs();
    if (!time.readable() || time.dayFirstMs() == time.monthFirstMs()) return;
    differ = true;
    dayFirstFails |= time.dayFirstMs() == Track.NO_TIME;
    monthFirstFails |= time.monthFirstMs() == Track.NO_TIME;
  }

  /**
   * Gives the fixes the times of the reading that stands.
   *
   * @param said whether the month comes first, where the tester said it of dates that leave it open
   */
  void settle(FixBuffer fixes, IssueLog issues, Optional<Boolean> said) {
    if (!differ || monthFirstFails && !dayFirstFails) return;
    boolean open = !dayFirstFails && !monthFirstFails;
    if (open && said.isPresent() && !said.get()) return;
    if (open && said.isPresent() || dayFirstFails && !monthFirstFails) {
      fixes.replaceTimes(Arrays.copyOf(monthFirst, size));
      return;
    }
    long[] none = new long[size];
    Arrays.fill(none, Track.NO_TIME);
    fixes.replaceTimes(none);
    issues.add(
        Issue.Kind.DATE_AMBIGUOUS,
        () -> "the whole file",
        dayFirstFails ? "day first in some rows, month first in others" : "day or month first");
  }
}
