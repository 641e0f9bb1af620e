package milewarden.matching.line;

import java.util.Arrays;

/**
 * By how much a line can turn between two of its places, by cells of its chainage: at once, as at a
 * vertex, and in proportion to the way between them. Only where a line is drawn so finely that it
 * is worth it.
 */
final class Turning {
  /** As far from a place in a cell as its figures hold, metres of chainage. */
  static final double REACH_M = 3;

  private static final double CELL_M = 2;
  private static final double ROUNDING_M = 1e-3;

  // With fewer edges within reach of a cell it is as quick to look at each of them.
  private static final int FEW = 10;

  // Shorter edges than this are lost in the roundings of a plane of 50 km.
  private static final double SHORTEST_M = 1e-3;

  // From straight to a bend of 12 m: what turns faster is taken to turn at once.
  private static final double[] PER_M = {0, 1 / 100.0, 1 / 30.0, 1 / 12.0};

  // As far from the line as most fixes are, at which the figures are chosen.
  private static final double OFF_M = 4;

  private final Edges edges;
  private final double[] atOnce;
  private final double[] perM;
  private final double[] leastCosine;

  Turning(Edges edges) {
    this.edges = edges;
    int cells = edges.count < FEW ? 0 : (int) Math.ceil(edges.lengthM / CELL_M);
    double[] once = new double[cells];
    perM = new double[cells];
    leastCosine = new double[cells];
    Arrays.fill(once, Double.NaN);
    boolean some = false;
    for (int c = 0; c < cells; c++) some |= look(c, once);
    atOnce = some ? once : new double[0];
  }

  private boolean look(int cell, double[] once) {
    double fromM = cell * CELL_M - REACH_M - ROUNDING_M;
    double toM = (cell + 1) * CELL_M + REACH_M + ROUNDING_M;
    // Over the seam of a closed line its vertices are not in one row.
    if (fromM < 0 || toM > edges.lengthM) return false;
    int from = edges.at(fromM);
    int to = edges.at(toM);
    if (to - from < FEW) return false;
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (int e = from; e <= to; e++) {
      if (!(edges.perSquare[e] < 1 / (SHORTEST_M * SHORTEST_M))) return false;
      double heading = edges.unwound(e);
      least = Math.min(least, heading);
      most = Math.max(most, heading);
    }
    if (!(most - least < Math.PI / 2)) return false;
    leastCosine[cell] = Math.cos(most - least);
    double narrowest = Double.POSITIVE_INFINITY;
    for (double rate : PER_M) {
      double falls = leastCosine[cell] - OFF_M * rate;
      if (!(falls > 0)) continue;
      double jump = atOnce(from, to, rate);
      if (!(jump / falls < narrowest)) continue;
      narrowest = jump / falls;
      once[cell] = jump;
      perM[cell] = rate;
    }
    return narrowest * OFF_M < REACH_M;
  }

  /** The largest turn between two edges that the way between them does not account for. */
  private double atOnce(int from, int to, double rate) {
    double right = Double.NEGATIVE_INFINITY;
    double left = Double.NEGATIVE_INFINITY;
    double most = 0;
    for (int e = from; e <= to; e++) {
      double heading = edges.unwound(e);
      most = Math.max(most, Math.max(right + heading, left - heading) - rate * edges.chainage[e]);
      right = Math.max(right, rate * edges.chainage[e + 1] - heading);
      left = Math.max(left, rate * edges.chainage[e + 1] + heading);
    }
    return most;
  }

  /** False where nothing is said of any place. */
  boolean some() {
    return atOnce.length > 0;
  }

  /** The cell of a chainage from 0 to L; negative where nothing is said of it. */
  int cell(double atM) {
    double cell = atM * (1 / CELL_M);
    if (!(cell >= 0) || !(cell < atOnce.length)) return -1;
    return Double.isNaN(atOnce[(int) cell]) ? -1 : (int) cell;
  }

  /** Radians. */
  double atOnce(int cell) {
    return atOnce[cell];
  }

  /** Radians for a metre between the two places. */
  double perM(int cell) {
    return perM[cell];
  }

  /** Of the turn between any two places. */
  double leastCosine(int cell) {
    return leastCosine[cell];
  }
}
