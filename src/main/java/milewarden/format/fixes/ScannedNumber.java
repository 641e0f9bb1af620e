package milewarden.format.fixes;

/** A number whose end is found while it is read: digits with a minus and a point, or none. */
public final class ScannedNumber {
  private double value = Double.NaN;

  /** What was read last; NaN where the signs are no number. */
  public double value() {
    return value;
  }

  /**
   * Reads the signs from the start on that a plain number has; what they say is that of {@link
   * PlainNumber#plain}.
   *
   * @return where they end
   */
  public int read(byte[] text, int start, int end) {
    int i = start;
    boolean negative = i < end && text[i] == '-';
    if (negative) i++;
    int from = i;
    long digits = 0;
    for (; i < end; i++) {
      int d = text[i] - '0';
      if (d < 0 || d > 9) break;
      digits = digits * 10 + d;
    }
    int count = i - from;
    int decimals = 0;
    if (i < end && text[i] == '.') {
      from = ++i;
      for (; i < end; i++) {
        int d = text[i] - '0';
        if (d < 0 || d > 9) break;
        digits = digits * 10 + d;
      }
      decimals = i - from;
      count += decimals;
    }
    boolean goesOn = i < end && (text[i] == '.' || text[i] == '-');
    if (goesOn || i - start > PlainNumber.SHORT) return odd(text, start, end);
    double size = digits / PlainNumber.TEN[decimals];
    value = count == 0 ? Double.NaN : negative ? -size : size;
    return i;
  }

  private int odd(byte[] text, int start, int end) {
    int stop = PlainNumber.endOf(text, start, end);
    value = PlainNumber.plain(text, start, stop);
    return stop;
  }
}
