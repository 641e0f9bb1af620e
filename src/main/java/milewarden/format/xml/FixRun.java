package milewarden.format.xml;

import java.util.Arrays;
import milewarden.format.fixes.ScannedNumber;
import milewarden.track.Track;

/** Fixes that followed each other in a file and were read ahead of the parser. */
final class FixRun {
  /** Enough that the parser has next to nothing to do. */
  static final int MOST = 512;

  private static final int NUMBERS = FixField.CADENCE.ordinal() + 1;

  private final double[][] numbers = new double[NUMBERS][MOST];
  private final long[] times = new long[MOST];
  private final int[] linesBehind = new int[MOST];
  private final int[] ownLines = new int[MOST];
  private final ScannedNumber scanned = new ScannedNumber();
  private int size;
  private int depth;
  private boolean open;

  FixRun() {
    size = MOST;
    clear();
  }

  void clear() {
    // All at once what is to be forgotten, with a fix that was begun and not ended.
    int used = Math.min(size + 1, MOST);
    for (double[] values : numbers) Arrays.fill(values, 0, used, Double.NaN);
    Arrays.fill(times, 0, used, Track.NO_TIME);
    size = 0;
    depth = 0;
    open = false;
  }

  int size() {
    return size;
  }

  boolean isFull() {
    return size == MOST;
  }

  /** Another fix; no value of it is known. */
  void begin() {
    if (open) {
      for (double[] values : numbers) values[size] = Double.NaN;
      times[size] = Track.NO_TIME;
    }
    open = true;
  }

  /**
   * Reads a number of the fix, NaN where it is none.
   *
   * @return where its signs end
   */
  int put(FixField field, byte[] text, int start, int end) {
    int stop = scanned.read(text, start, end);
    numbers[field.ordinal()][size] = scanned.value();
    return stop;
  }

  void putTime(long ms) {
    times[size] = ms;
  }

  /**
   * The fix that was begun is whole.
   *
   * @param lines line breaks of the file from the start of the run to the end of the fix
   */
  void end(int lines, FixShape shape) {
    if (!open) throw new IllegalStateException("no fix was begun");
    ownLines[size] = shape.lines();
    linesBehind[size++] = lines;
    depth = Math.max(depth, shape.levels());
    open = false;
  }

  /** Line breaks of the file from the end of a fix to the end of the run. */
  int linesAfter(int i) {
    return linesBehind[size - 1] - linesBehind[i];
  }

  /** Line breaks within a fix. */
  int linesOf(int i) {
    return ownLines[i];
  }

  /** Line breaks in all. */
  int lines() {
    return linesBehind[size - 1];
  }

  /** Most levels of elements in a fix, with its own. */
  int depth() {
    return depth;
  }

  /** A value of a fix; NaN where it has none. */
  double number(FixField field, int i) {
    return numbers[field.ordinal()][i];
  }

  /** UTC milliseconds since 1970; {@link Track#NO_TIME} where the fix has none. */
  long timeMs(int i) {
    return times[i];
  }

  @Override
  public String toString() {
    return size + " fixes, times " + Arrays.toString(Arrays.copyOf(times, size));
  }
}
