package milewarden.format.xml;

import java.util.Arrays;
import java.util.List;
import milewarden.track.Track;

/**
 * The markup of a fix as bytes: what stands in every fix alike, and between it the values. A
 * recorder writes thousands of fixes that differ in their values alone, so that comparing bytes
 * does for them what a parser does.
 */
final class FixShape {
  /** Does not fit. */
  static final int NO = -1;

  private final byte[][] alike;
  private final FixField[] values;
  private final int lines;
  private final int levels;

  /**
   * @param alike one more than the values
   * @param levels of elements, with the fix's own
   */
  FixShape(List<byte[]> alike, List<FixField> values, int levels) {
    this.alike = alike.toArray(byte[][]::new);
    this.values = values.toArray(FixField[]::new);
    this.levels = levels;
    int breaks = 0;
    for (byte[] part : alike) for (byte b : part) if (b == '\n') breaks++;
    lines = breaks;
  }

  int lines() {
    return lines;
  }

  int levels() {
    return levels;
  }

  boolean isLike(FixShape other) {
    return Arrays.equals(values, other.values) && Arrays.deepEquals(alike, other.alike);
  }

  /**
   * Reads a fix of this shape.
   *
   * @param times remembers what it read last
   * @param to has begun a fix
   * @return where the fix ends, or {@link #NO}: another shape, or a value that isn't plain
   */
  int read(byte[] text, int start, int end, PlainStamp times, FixRun to) {
    int at = start;
    for (int i = 0; ; i++) {
      byte[] part = alike[i];
      int next = at + part.length;
      if (next > end || !Arrays.equals(text, at, next, part, 0, part.length)) return NO;
      if (i == values.length) return isPlace(to) ? next : NO;
      at = value(values[i], text, next, end, times, to);
      if (at == NO) return NO;
    }
  }

  private static int value(
      FixField field, byte[] text, int start, int end, PlainStamp times, FixRun to) {
    if (field == FixField.OTHER) return other(text, start, end);
    if (field == FixField.TIME) {
      int stop = PlainStamp.endOf(text, start, end);
      long ms = times.read(text, start, stop);
      if (ms == Track.NO_TIME) return NO;
      to.putTime(ms);
      return stop;
    }
    int stop = to.put(field, text, start, end);
    double number = to.number(field, to.size());
    boolean signed = field.isPosition() || field == FixField.HEIGHT;
    return Double.isNaN(number) || number < 0 && !signed ? NO : stop;
  }

  /** Where the signs end that need no more than to be passed over. */
  private static int other(byte[] text, int start, int end) {
    int at = start;
    while (at < end && text[at] >= ' ' && text[at] < 0x7f && "<>&]".indexOf(text[at]) < 0) at++;
    return at;
  }

  private static boolean isPlace(FixRun to) {
    double latitude = to.number(FixField.LATITUDE, to.size());
    double longitude = to.number(FixField.LONGITUDE, to.size());
    return Math.abs(latitude) <= 90
        && Math.abs(longitude) <= 180
        && !(latitude == 0 && longitude == 0);
  }
}
