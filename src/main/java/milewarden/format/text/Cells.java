package milewarden.format.text;

/** One row of a table, cut at its separator; a cell may stand in double quotes. */
final class Cells {
  private static final int MOST = 512;

  private final char separator;
  private final int[] starts = new int[MOST];
  private final int[] ends = new int[MOST];
  private char[] row = {};
  private int count;

  Cells(char separator) {
    this.separator = separator;
  }

  /** Cells behind the 512th are not looked at. */
  void cut(char[] line, int length) {
    row = line;
    count = 0;
    int i = 0;
    while (i <= length && count < MOST) {
      int from = i;
      // Seconds of arc are written with the same sign: only a cell that begins with it is quoted.
      while (i < length && line[i] == ' ') i++;
      if (i < length && line[i] == '"') i = behindQuoted(line, length, i);
      else while (i < length && line[i] != separator) i++;
      trim(from, i);
      i++;
    }
  }

  private int behindQuoted(char[] line, int length, int quote) {
    int i = quote;
    boolean inside = false;
    while (i < length && (inside || line[i] != separator)) {
      if (line[i] == '"') inside = !inside;
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

  char[] row() {
    return row;
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

  /** The cell's text; empty where the row has no such cell. */
  String text(int cell) {
    return isEmpty(cell) ? "" : new String(row, starts[cell], ends[cell] - starts[cell]);
  }
}
