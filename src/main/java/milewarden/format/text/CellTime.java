package milewarden.format.text;

import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.format.fixes.PlainTime;
import milewarden.track.Track;

/**
 * Times as tables have them: ISO 8601 with or without a zone, dates with points or slashes, seconds
 * and milliseconds since 1970.
 *
 * <p>Of {@code 5/12/2026} nobody can say whether it is a day in May or in December: both are kept
 * until the file shows which.
 */
final class CellTime {
  private static final Pattern DATE =
      Pattern.compile("(\\d{1,4})([-./])(\\d{1,2})\\2(\\d{1,4})(?:[ T,]+(.*))?");
  private static final Pattern CLOCK =
      Pattern.compile("(\\d{1,2}):(\\d{2})(?::(\\d{2})(?:[.,](\\d{1,9}))?)?\\s*([AP]M)?");
  private static final Pattern ZONED = Pattern.compile("(.*?)\\s*(Z|UTC|GMT|[+-]\\d{2}:?\\d{2})");
  private static final int DAY_S = 86_400;

  private long dayFirstMs = Track.NO_TIME;
  private long monthFirstMs = Track.NO_TIME;
  private boolean zoned;
  private final SameMinute minute = new SameMinute();
  private long dayFirstOfMinute = Track.NO_TIME;
  private long monthFirstOfMinute = Track.NO_TIME;

  /** Milliseconds since 1970 where the first number of {@code a/b/year} is the day. */
  long dayFirstMs() {
    return dayFirstMs;
  }

  /** The same where it is the month; both are equal in every other form. */
  long monthFirstMs() {
    return monthFirstMs;
  }

  /** Whether the text itself names a zone; else it was read as UTC. */
  boolean zoned() {
    return zoned;
  }

  boolean readable() {
    return dayFirstMs != Track.NO_TIME || monthFirstMs != Track.NO_TIME;
  }

  /** Reads a text; {@link #readable()} says whether it was a time. */
  void read(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    // A sign beyond ASCII takes more than one.
    if (bytes.length == text.length()) read(bytes, 0, bytes.length);
    else anew(text);
  }

  /** Reads a text of ASCII; {@link #readable()} says whether it was a time. */
  void read(byte[] text, int start, int end) {
    if (minute.holds(text, start, end)) {
      both(minute.of(dayFirstOfMinute), minute.of(monthFirstOfMinute));
      return;
    }
    anew(new String(text, start, end - start, StandardCharsets.US_ASCII));
    if (!readable() || !minute.remember(text, start, end)) return;
    dayFirstOfMinute = minute.without(dayFirstMs);
    monthFirstOfMinute = minute.without(monthFirstMs);
  }

  private void anew(String text) {
    minute.forget();
    both(Track.NO_TIME, Track.NO_TIME);
    zoned = false;
    if (text.isEmpty()) return;
    long iso = PlainTime.parse(text.toCharArray(), 0, text.length());
    if (iso != Track.NO_TIME) {
      zoned = true;
      both(iso, iso);
    } else if (text.matches("\\d{9,10}(?:\\.\\d{1,9})?|\\d{12,13}")) {
      double value = Double.parseDouble(text);
      zoned = true;
      long ms = Math.round(text.matches("\\d{12,13}") ? value : value * 1000);
      both(ms, ms);
    } else {
      byDate(text);
    }
  }

  private void both(long dayFirst, long monthFirst) {
    dayFirstMs = dayFirst;
    monthFirstMs = monthFirst;
  }

  private void byDate(String text) {
    Matcher date = DATE.matcher(text);
    if (!date.matches()) return;
    String rest = date.group(5) == null ? "" : date.group(5).strip();
    long offsetMs = 0;
    Matcher zone = ZONED.matcher(rest);
    if (zone.matches()) {
      zoned = true;
      offsetMs = offsetMs(zone.group(2));
      rest = zone.group(1);
    }
    long clock = clockMs(rest);
    if (clock < 0) return;
    int a = Integer.parseInt(date.group(1));
    int b = Integer.parseInt(date.group(3));
    int c = Integer.parseInt(date.group(4));
    long inDay = clock - offsetMs;
    if (date.group(1).length() == 4) both(at(a, b, c, inDay), at(a, b, c, inDay));
    else if (date.group(4).length() != 4) return;
    // With points the day comes first wherever such dates are written.
    else if (date.group(2).equals(".")) both(at(c, b, a, inDay), at(c, b, a, inDay));
    else both(at(c, b, a, inDay), at(c, a, b, inDay));
  }

  private static long at(int year, int month, int day, long inDayMs) {
    try {
      return LocalDate.of(year, month, day).toEpochDay() * DAY_S * 1000L + inDayMs;
    } catch (DateTimeException e) {
      return Track.NO_TIME;
    }
  }

  /** {@code Z} or {@code +02:00}, in milliseconds. */
  static long offsetMs(String zone) {
    if (!zone.startsWith("+") && !zone.startsWith("-")) return 0;
    int hours = Integer.parseInt(zone.substring(1, 3));
    int minutes = Integer.parseInt(zone.substring(zone.length() - 2));
    long ms = (hours * 60L + minutes) * 60_000;
    return zone.startsWith("-") ? -ms : ms;
  }

  /** Milliseconds of the day; 0 for an empty text, -1 where it is no time of day. */
  private static long clockMs(String text) {
    if (text.isEmpty()) return 0;
    Matcher m = CLOCK.matcher(text.toUpperCase(Locale.ROOT));
    if (!m.matches()) return -1;
    int hour = Integer.parseInt(m.group(1));
    int minute = Integer.parseInt(m.group(2));
    int second = m.group(3) == null ? 0 : Integer.parseInt(m.group(3));
    if (m.group(5) != null) {
      if (hour < 1 || hour > 12) return -1;
      hour = hour % 12 + (m.group(5).equals("PM") ? 12 : 0);
    }
    if (hour > 23 || minute > 59 || second > 60) return -1;
    String fraction = m.group(4) == null ? "" : m.group(4);
    long ms = fraction.isEmpty() ? 0 : Long.parseLong((fraction + "00").substring(0, 3));
    return ((hour * 60L + minute) * 60 + second) * 1000 + ms;
  }
}
