package milewarden.matching.line;

/** On which edge of a line a chainage lies, in a time that does not grow with their number. */
final class EdgeTable {
  private final double[] chainage;
  private final int[] starts;
  private final double cellsPerM;
  private final int last;

  /**
   * @param chainage of the vertices in metres, rising; two or more
   */
  EdgeTable(double[] chainage) {
    this.chainage = chainage;
    last = chainage.length - 2;
    // As many cells as edges: an evenly drawn line has one edge in each.
    int cells = chainage.length - 1;
    double lengthM = chainage[last + 1] - chainage[0];
    cellsPerM = cells / lengthM;
    starts = new int[cells];
    int e = 0;
    for (int c = 0; c < cells; c++) {
      double from = chainage[0] + c * lengthM / cells;
      while (e < last && chainage[e + 1] <= from) e++;
      starts[c] = e;
    }
  }

  /** The edge; of a vertex the one behind it; beyond the ends the first or the last. */
  int edge(double atM) {
    double cell = (atM - chainage[0]) * cellsPerM;
    if (!(cell > 0)) return 0;
    if (cell >= starts.length) return last;
    int c = (int) cell;
    int e = starts[c];
    // A line drawn very unevenly has cells with many edges.
    int high = c + 1 < starts.length ? starts[c + 1] : last;
    while (high - e > 8) {
      int middle = (e + high) >>> 1;
      if (chainage[middle] <= atM) e = middle;
      else high = middle;
    }
    while (e < last && chainage[e + 1] <= atM) e++;
    // The cell's start may be rounded to the wrong side of a vertex.
    while (e > 0 && chainage[e] > atM) e--;
    return e;
  }
}
