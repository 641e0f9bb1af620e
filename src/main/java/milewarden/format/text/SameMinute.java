package milewarden.format.text;

import java.util.Arrays;
import milewarden.track.Track;

/**
 * The text of the last time, so that the next one of the same minute needs no more than its two
 * digits of seconds: the rows of a minute have all but these alike.
 */
final class SameMinute {
  /** A time is not longer, in any form. */
  private static final int LONGEST = 40;

  private final byte[] text = new byte[LONGEST];
  private int length;
  private int secondsAt;
  private int seconds;

  void forget() {
    length = 0;
  }

  /**
   * Remembers a time that was read.
   *
   * @return whether it has seconds to go by
   */
  boolean remember(byte[] from, int start, int end) {
    int n = end - start;
    if (n > LONGEST) return false;
    System.arraycopy(from, start, text, 0, n);
    secondsAt = secondsAt(n);
    if (secondsAt < 0 || secondsOf(text, secondsAt) < 0) return false;
    seconds = secondsOf(text, secondsAt);
    length = n;
    return true;
  }

  /** Behind the first {@code :07:} of an hour that a date stands before; -1 where there is none. */
  private int secondsAt(int n) {
    for (int i = 2; i + 6 <= n; i++) {
      if (text[i] != ':') continue;
      int hour = i - 1;
      while (hour > 0 && digit(hour)) hour--;
      // An offset has such digits, too, and no date right before them.
      boolean behindDate = i - hour > 1 && "Tt ,".indexOf(text[hour]) >= 0;
      // The end of a day may be written as 24:00:00, and no later.
      boolean endOfDay = text[i - 2] == '2' && text[i - 1] == '4';
      boolean minutes = digit(i + 1) && digit(i + 2) && text[i + 3] == ':';
      boolean ends = i + 6 == n || !digit(i + 6);
      return behindDate && !endOfDay && minutes && ends ? i + 4 : -1;
    }
    return -1;
  }

  private boolean digit(int i) {
    return text[i] >= '0' && text[i] <= '9';
  }

  /** -1 where they are no two digits below 60. */
  private static int secondsOf(byte[] text, int at) {
    int tens = text[at] - '0';
    int ones = text[at + 1] - '0';
    return tens < 0 || tens > 5 || ones < 0 || ones > 9 ? -1 : tens * 10 + ones;
  }

  /** Whether it is the time remembered but for its seconds, which are those from now on. */
  boolean holds(byte[] from, int start, int end) {
    if (length == 0 || end - start != length) return false;
    int found = secondsOf(from, start + secondsAt);
    int rest = secondsAt + 2;
    boolean same =
        found >= 0
            && Arrays.equals(from, start, start + secondsAt, text, 0, secondsAt)
            && Arrays.equals(from, start + rest, end, text, rest, length);
    if (same) seconds = found;
    return same;
  }

  /** A time without its seconds, in milliseconds; NO_TIME stays what it is. */
  long without(long ms) {
    return ms == Track.NO_TIME ? ms : ms - seconds * 1000L;
  }

  /** The time of that minute with the seconds of now. */
  long of(long minuteMs) {
    return minuteMs == Track.NO_TIME ? minuteMs : minuteMs + seconds * 1000L;
  }
}
