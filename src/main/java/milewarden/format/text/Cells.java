package milewarden.format.text;

import milewarden.format.fixes.EightBytes;

/** One row of a table, cut at its separator; a cell may stand in double quotes. */
final class Cells {
  private static final int MOST = 512;
  private static final long QUOTES = EightBytes.each('"');

  private final char separator;
  private final int[] starts = new int[MOST];
  private final int[] ends = new int[MOST];
  private final long separators;
  private byte[] row = {};
  private char[] signs = {};
  private int count;

  Cells(char separator) {
    this.separator = separator;
    separators = EightBytes.each(separator);
  }

  /** Cells behind the 512th are not looked at. */
  void cut(Lines lines) {
    cut(lines.bytes(), lines.signs(), lines.start(), lines.stop());
  }

  /** As {@link #cut(Lines)}. */
  void cut(String line) {
    char[] text = line.toCharArray();
    byte[] bytes = new byte[text.length + EightBytes.BEHIND];
    for (int i = 0; i < text.length; i++) bytes[i] = Lines.byteOf(text[i]);
    cut(bytes, text, 0, text.length);
  }

  private void cut(byte[] bytes, char[] text, int start, int end) {
    row = bytes;
    signs = text;
    count = 0;
    if (cutUnquoted(start, end)) return;
    count = 0;
    cutQuoted(start, end);
  }

  /** Whether it is a row without a quote; else it is not cut to its end. */
  private boolean cutUnquoted(int start, int end) {
    int from = start;
    for (int i = start; i < end; i += 8) {
      long eight = EightBytes.of(row, i, end);
      if (EightBytes.where(eight, QUOTES) != 0) return false;
      long found = EightBytes.where(eight, separators);
      for (; found != 0 && count < MOST; found &= found - 1) {
        int to = i + EightBytes.first(found);
        trim(from, to);
        from = to + 1;
      }
    }
    if (count < MOST) trim(from, end);
    return true;
  }

  private void cutQuoted(int start, int end) {
    int i = start;
    while (i <= end && count < MOST) {
      int from = i;
      // Seconds of arc are written with the same sign: only a cell that begins with it is quoted.
      while (i < end && row[i] == ' ') i++;
      if (i < end && row[i] == '"') i = behindQuoted(end, i);
      else while (i < end && row[i] != separator) i++;
      trim(from, i);
      i++;
    }
  }

  private int behindQuoted(int end, int quote) {
    int i = quote;
    boolean inside = false;
    while (i < end && (inside || row[i] != separator)) {
      if (row[i] == '"') inside = !inside;
      i++;
    }
    return i;
  }

  private void trim(int from, int to) {
    int start = from;
    int end = to;
    while (start < end && row[start] <= ' ') start++;
    while (start < end && row[end - 1] <= ' ') end--;
    if (end - start >= 2 && row[start] == '"' && row[end - 1] == '"') {
      start++;
      end--;
    }
    starts[count] = start;
    ends[count++] = end;
  }

  int count() {
    return count;
  }

  /** One byte a sign, {@link Lines#BEYOND_ASCII} for others. */
  byte[] row() {
    return row;
  }

  /** Whether the bytes are the signs. */
  boolean areAscii() {
    return signs.length == 0;
  }

  int start(int cell) {
    return starts[cell];
  }

  int end(int cell) {
    return ends[cell];
  }

  boolean isEmpty(int cell) {
    return cell < 0 || cell >= count || starts[cell] == ends[cell];
  }

  /** The first sign of a cell that is not empty. */
  char first(int cell) {
    return areAscii() ? (char) row[starts[cell]] : signs[starts[cell]];
  }

  /** The cell's text; empty where the row has no such cell. */
  String text(int cell) {
    return isEmpty(cell) ? "" : Lines.text(row, signs, starts[cell], ends[cell]);
  }
}
