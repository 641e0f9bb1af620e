package milewarden.format.fixes;

import static java.nio.charset.StandardCharsets.US_ASCII;

/**
 * Decimal numbers straight from a character buffer: the plain form by hand, the rest by the JDK.
 *
 * <p>The result is always that of {@link Double#parseDouble}: up to 15 digits and 22 decimals both
 * the digits and the power of ten are exact doubles, and one division rounds once.
 *
 * @see "Clinger (1990), How to read floating point numbers accurately, PLDI: the fast path"
 */
public final class PlainNumber {
  static final double[] TEN = new double[23];
  // Signs that can hold no more than 15 digits that count.
  static final int SHORT = 15;

  static {
    for (int i = 0; i < TEN.length; i++) TEN[i] = Double.parseDouble("1e" + i);
  }

  private PlainNumber() {}

  /** The number in {@code text[start, end)} with blanks around it; NaN where it is none. */
  public static double parse(char[] text, int start, int end) {
    while (start < end && text[start] <= ' ') start++;
    while (start < end && text[end - 1] <= ' ') end--;
    return ofLong(text, start, end);
  }

  /** As {@link #parse(char[], int, int)} for bytes of ASCII. */
  public static double parse(byte[] text, int start, int end) {
    while (start < end && text[start] <= ' ') start++;
    while (start < end && text[end - 1] <= ' ') end--;
    return end - start <= SHORT ? ofShort(text, start, end) : ofOdd(text, start, end);
  }

  private static double ofOdd(byte[] text, int start, int end) {
    return parse(new String(text, start, end - start, US_ASCII));
  }

  /** So few digits that none need be counted: digits before a point, and digits behind it. */
  private static double ofShort(byte[] text, int start, int end) {
    int i = start;
    boolean negative = i < end && text[i] == '-';
    if (i < end && (text[i] == '-' || text[i] == '+')) i++;
    long digits = 0;
    int from = i;
    for (; i < end; i++) {
      int d = text[i] - '0';
      if (d < 0 || d > 9) break;
      digits = digits * 10 + d;
    }
    int whole = i - from;
    int decimals = 0;
    if (i < end && text[i] == '.') {
      from = ++i;
      for (; i < end; i++) {
        int d = text[i] - '0';
        if (d < 0 || d > 9) break;
        digits = digits * 10 + d;
      }
      decimals = i - from;
    }
    if (i < end) return ofOdd(text, start, end);
    if (whole + decimals == 0) return Double.NaN;
    double value = digits / TEN[decimals];
    return negative ? -value : value;
  }

  private static double ofLong(char[] text, int start, int end) {
    int i = start;
    boolean negative = i < end && text[i] == '-';
    if (i < end && (text[i] == '-' || text[i] == '+')) i++;
    long digits = 0;
    int count = 0;
    int decimals = 0;
    boolean point = false;
    for (; i < end; i++) {
      int c = text[i];
      if (c >= '0' && c <= '9') {
        digits = digits * 10 + (c - '0');
        if (digits != 0) count++;
        if (point) decimals++;
        if (count > 15 || decimals > 22) return byLibrary(text, start, end);
      } else if (c == '.' && !point) {
        point = true;
      } else {
        return byLibrary(text, start, end);
      }
    }
    if (count == 0 && digits == 0 && !hasDigit(text, start, end)) return Double.NaN;
    double value = digits / TEN[decimals];
    return negative ? -value : value;
  }

  /** As {@link #parse(char[], int, int)} for a text. */
  public static double parse(String text) {
    return parse(text.toCharArray(), 0, text.length());
  }

  /** Where the signs end that a plain number has: a minus, digits and a point. */
  static int endOf(byte[] text, int start, int end) {
    int at = start;
    while (at < end && (text[at] >= '0' && text[at] <= '9' || text[at] == '.' || text[at] == '-'))
      at++;
    return at;
  }

  /**
   * The number in {@code text[start, end)} where it is of the plain form, an optional minus, digits
   * and decimals; NaN for every other form, number or not.
   */
  static double plain(byte[] text, int start, int end) {
    if (end - start > SHORT) return parse(new String(text, start, end - start, US_ASCII));
    int i = start;
    boolean negative = i < end && text[i] == '-';
    if (negative) i++;
    long digits = 0;
    int from = i;
    int point = -1;
    for (; i < end; i++) {
      int d = text[i] - '0';
      if (d >= 0 && d <= 9) digits = digits * 10 + d;
      else if (text[i] == '.' && point < 0) point = i;
      else return Double.NaN;
    }
    int signs = end - from;
    if (signs == 0 || signs == 1 && point >= 0) return Double.NaN;
    double value = point < 0 ? digits : digits / TEN[end - point - 1];
    return negative ? -value : value;
  }

  private static boolean hasDigit(char[] text, int start, int end) {
    for (int i = start; i < end; i++) if (text[i] >= '0' && text[i] <= '9') return true;
    return false;
  }

  private static double byLibrary(char[] text, int start, int end) {
    // The JDK also takes hexadecimal, "NaN", "1f" and "1d": no number of a file.
    for (int i = start; i < end; i++) {
      char c = text[i];
      boolean allowed = c >= '0' && c <= '9' || "+-.eE".indexOf(c) >= 0;
      if (!allowed) return Double.NaN;
    }
    try {
      return Double.parseDouble(new String(text, start, end - start));
    } catch (NumberFormatException e) {
      return Double.NaN;
    }
  }
}
