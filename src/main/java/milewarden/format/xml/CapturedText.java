package milewarden.format.xml;

import java.util.Arrays;
import java.util.function.Supplier;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.PlainNumber;
import milewarden.format.fixes.PlainTime;
import milewarden.track.Issue;
import milewarden.track.Track;

/** The text of one element: short, or no number and no time. */
final class CapturedText {
  private static final int LONGEST = 64;

  private final char[] text = new char[LONGEST];
  private int length;
  // The fixes of a minute have all but the seconds of their times alike.
  private final char[] minute = new char[17];
  private long minuteMs = Track.NO_TIME;

  void clear() {
    length = 0;
  }

  void append(char[] buffer, int start, int count) {
    if (length + count > LONGEST) {
      length = LONGEST + 1;
      return;
    }
    System.arraycopy(buffer, start, text, length, count);
    length += count;
  }

  boolean isBlank() {
    if (length > LONGEST) return false;
    for (int i = 0; i < length; i++) if (text[i] > ' ') return false;
    return true;
  }

  /** The number that it is; NaN where it is none. */
  double number() {
    return length > LONGEST ? Double.NaN : PlainNumber.parse(text, 0, length);
  }

  /** Milliseconds since 1970, or {@link Track#NO_TIME}; what is odd about it is said. */
  long time(IssueLog issues, Supplier<String> place) {
    if (length <= LONGEST) {
      int second = plainSecond();
      boolean known = second >= 0 && minuteMs != Track.NO_TIME;
      if (known && Arrays.equals(text, 0, 17, minute, 0, 17)) return minuteMs + second * 1000L;
      long parsed = PlainTime.parse(text, 0, length);
      if (parsed != Track.NO_TIME) {
        if (second >= 0) keepMinute(parsed - second * 1000L);
        return parsed;
      }
      long local = PlainTime.parseWithoutZone(text, 0, length);
      if (local != Track.NO_TIME) {
        issues.add(Issue.Kind.TIME_WITHOUT_ZONE, place, toString());
        return local;
      }
    }
    issues.add(Issue.Kind.TIME_UNREADABLE, place, toString());
    return Track.NO_TIME;
  }

  /** The seconds of {@code 2026-05-12T07:00:00Z}; -1 of any other form. */
  private int plainSecond() {
    if (length != 20 || text[19] != 'Z') return -1;
    int tens = text[17] - '0';
    int ones = text[18] - '0';
    return tens < 0 || tens > 5 || ones < 0 || ones > 9 ? -1 : tens * 10 + ones;
  }

  private void keepMinute(long ms) {
    System.arraycopy(text, 0, minute, 0, minute.length);
    minuteMs = ms;
  }

  /** The time of an attribute; {@link Track#NO_TIME} where it is none with a zone. */
  static long timeOf(String attribute) {
    return PlainTime.parse(attribute.toCharArray(), 0, attribute.length());
  }

  /** What of it there is room for. */
  @Override
  public String toString() {
    return new String(text, 0, Math.min(length, LONGEST)).strip();
  }
}
