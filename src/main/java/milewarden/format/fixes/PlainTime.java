package milewarden.format.fixes;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Locale;
import milewarden.track.Track;

/**
 * Times of XML Schema (xsd:dateTime) straight from a character buffer: the plain forms {@code
 * 2026-05-12T07:00:00Z}, with a fraction and with an offset, by hand; the rest by the JDK.
 *
 * <p>The result is that of {@link Instant#parse}, in milliseconds, rounded down.
 */
public final class PlainTime {
  private static final int[] DAYS_BEFORE_MONTH = {
    0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334
  };
  private static final long DAY_MS = 86_400_000L;
  // So far below 0 that no other part of a year makes up for it.
  private static final int NO_DIGITS = -1_000_000;

  private PlainTime() {}

  /**
   * UTC milliseconds since 1970 of {@code text[start, end)}; {@link Track#NO_TIME} where it is no
   * time, or none with a zone.
   */
  public static long parse(char[] text, int start, int end) {
    while (start < end && text[start] <= ' ') start++;
    while (start < end && text[end - 1] <= ' ') end--;
    long plain = plain(text, start, end);
    return plain != Track.NO_TIME ? plain : byLibrary(new String(text, start, end - start));
  }

  /**
   * As {@link #parse} for a time without a zone, read as if it were UTC; NO_TIME where it is not of
   * that form.
   */
  public static long parseWithoutZone(char[] text, int start, int end) {
    try {
      return LocalDateTime.parse(clean(new String(text, start, end - start)))
          .toInstant(ZoneOffset.UTC)
          .toEpochMilli();
    } catch (DateTimeException | ArithmeticException e) {
      return Track.NO_TIME;
    }
  }

  private static long plain(char[] t, int s, int end) {
    // 2026-05-12T07:00:00Z is 20 characters: the shortest.
    if (end - s < 20 || t[s + 4] != '-' || t[s + 7] != '-' || t[s + 10] != 'T')
      return Track.NO_TIME;
    if (t[s + 13] != ':' || t[s + 16] != ':') return Track.NO_TIME;
    int year = two(t, s) * 100 + two(t, s + 2);
    int month = two(t, s + 5);
    int day = two(t, s + 8);
    int hour = two(t, s + 11);
    int minute = two(t, s + 14);
    int second = two(t, s + 17);
    // What is out of its range, two() makes negative; days 29 to 31 and leap seconds are rare or
    // need the calendar: the JDK decides them.
    if (year < 1 || month < 1 || month > 12 || day < 1 || day > 31) return Track.NO_TIME;
    if (day > 28 && day > lengthOf(month, year)) return Track.NO_TIME;
    if (hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 59)
      return Track.NO_TIME;
    int i = s + 19;
    int milli = 0;
    if (t[i] == '.') {
      int digits = 0;
      for (i++; i < end && t[i] >= '0' && t[i] <= '9'; i++, digits++)
        if (digits < 3) milli = milli * 10 + (t[i] - '0');
      if (digits == 0 || digits > 9) return Track.NO_TIME;
      for (int d = digits; d < 3; d++) milli *= 10;
    }
    long offsetMs = offset(t, i, end);
    if (offsetMs == Track.NO_TIME) return Track.NO_TIME;
    long seconds = (hour * 60L + minute) * 60 + second;
    return epochDay(year, month, day) * DAY_MS + seconds * 1000 + milli - offsetMs;
  }

  /** Milliseconds of the zone at {@code i}: {@code Z} or {@code +05:30}; else NO_TIME. */
  private static long offset(char[] t, int i, int end) {
    if (i == end - 1 && t[i] == 'Z') return 0;
    if (i != end - 6 || t[i + 3] != ':' || (t[i] != '+' && t[i] != '-')) return Track.NO_TIME;
    int hours = two(t, i + 1);
    int minutes = two(t, i + 4);
    // java.time knows offsets up to 18 hours.
    if (hours < 0 || hours > 17 || minutes < 0 || minutes > 59) return Track.NO_TIME;
    long ms = (hours * 60L + minutes) * 60_000;
    return t[i] == '-' ? -ms : ms;
  }

  private static int two(char[] t, int i) {
    int a = t[i] - '0';
    int b = t[i + 1] - '0';
    return a < 0 || a > 9 || b < 0 || b > 9 ? NO_DIGITS : a * 10 + b;
  }

  private static boolean leap(int year) {
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
  }

  private static int lengthOf(int month, int year) {
    if (month == 2) return leap(year) ? 29 : 28;
    return month == 4 || month == 6 || month == 9 || month == 11 ? 30 : 31;
  }

  /** Days since 1970-01-01 in the Gregorian calendar, years 1 to 9999. */
  private static long epochDay(int year, int month, int day) {
    int before = year - 1;
    long days = 365L * before + before / 4 - before / 100 + before / 400;
    int leapDay = month > 2 && leap(year) ? 1 : 0;
    // 719162 days from 0001-01-01 to 1970-01-01: 1969 * 365 + 492 - 19 + 4.
    return days + DAYS_BEFORE_MONTH[month - 1] + leapDay + day - 1 - 719_162;
  }

  private static long byLibrary(String text) {
    String t = clean(text);
    try {
      return Instant.parse(t).toEpochMilli();
    } catch (DateTimeException | ArithmeticException e) {
      // An offset: Instant.parse of Java 17 takes those too, but not every form of it.
    }
    try {
      return OffsetDateTime.parse(t).toInstant().toEpochMilli();
    } catch (DateTimeException | ArithmeticException e) {
      return Track.NO_TIME;
    }
  }

  /** Line breaks inside a time, a blank for the T, and a comma before the fraction. */
  private static String clean(String text) {
    String t = text.strip().toUpperCase(Locale.ROOT).replaceAll("\\s*T\\s*|\\s+", "T");
    // Blanks elsewhere than between date and time were line breaks of a writer.
    int first = t.indexOf('T');
    if (first >= 0) t = t.substring(0, first + 1) + t.substring(first + 1).replace("T", "");
    return t.replace(',', '.');
  }
}
