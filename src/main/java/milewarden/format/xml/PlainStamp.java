package milewarden.format.xml;

import java.util.Arrays;
import milewarden.format.fixes.PlainTime;
import milewarden.track.Track;

/** Times of a file, one after the other; the fixes of a minute have all but their seconds alike. */
final class PlainStamp {
  private static final int LONGEST = 40;
  // 2026-05-12T07:00:
  private static final int MINUTE = 17;
  // 2026-05-12T07:00:00Z
  private static final int WHOLE = 20;

  private final char[] text = new char[LONGEST];
  private final byte[] minute = new byte[MINUTE];
  private long minuteMs = Track.NO_TIME;

  /** Where the markup behind a time begins; none has markup within it. */
  static int endOf(byte[] text, int start, int end) {
    int stop = start + WHOLE;
    if (stop < end && text[stop] == '<' && text[stop - 1] == 'Z') return stop;
    stop = start;
    while (stop < end && text[stop] != '<') stop++;
    return stop;
  }

  /** Milliseconds of {@code text[start, end)}; NO_TIME where it is none, or none with a zone. */
  long read(byte[] from, int start, int end) {
    int length = end - start;
    if (length < WHOLE || length > LONGEST) return Track.NO_TIME;
    int tens = from[start + MINUTE] - '0';
    int ones = from[start + MINUTE + 1] - '0';
    boolean plain = length == WHOLE && from[end - 1] == 'Z';
    boolean seconds = plain && tens >= 0 && tens <= 5 && ones >= 0 && ones <= 9;
    boolean known = seconds && minuteMs != Track.NO_TIME;
    if (known && Arrays.equals(from, start, start + MINUTE, minute, 0, MINUTE))
      return minuteMs + (tens * 10 + ones) * 1000L;
    for (int i = 0; i < length; i++) {
      if (from[start + i] < ' ' || from[start + i] == '&') return Track.NO_TIME;
      text[i] = (char) from[start + i];
    }
    long ms = PlainTime.parse(text, 0, length);
    if (seconds && ms != Track.NO_TIME) {
      System.arraycopy(from, start, minute, 0, MINUTE);
      minuteMs = ms - (tens * 10 + ones) * 1000L;
    }
    return ms;
  }
}
