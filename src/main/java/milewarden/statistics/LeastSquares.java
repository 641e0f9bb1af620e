package milewarden.statistics;

import java.util.Optional;

/**
 * Ordinary least squares for one coefficient of interest, safe against columns that say the same:
 * the other columns are made orthogonal one by one, and one that adds nothing is left out.
 */
public final class LeastSquares {
  // A column whose length falls below this share of what it was is a sum of the others: shares of a
  // session are simple fractions, so true remainders are far larger.
  private static final double ALIASED = 1e-9;

  private LeastSquares() {}

  /**
   * The coefficient of {@code wanted} in y = others * beta + wanted * coefficient + error.
   *
   * @param others columns, each as long as y; may be linearly dependent
   * @return empty where the others explain {@code wanted} wholly, or where no degree of freedom is
   *     left
   */
  public static Optional<Contrast> coefficient(double[] y, double[][] others, double[] wanted) {
    double[] rest = y.clone();
    double[] column = wanted.clone();
    int rank = sweep(others, rest, column);
    double length = dot(column, column);
    double df = y.length - rank - 1.0;
    if (df < 1 || length <= ALIASED * Math.max(1, dot(wanted, wanted))) return Optional.empty();
    double coefficient = dot(rest, column) / length;
    double squares = 0;
    for (int i = 0; i < rest.length; i++) {
      double r = rest[i] - coefficient * column[i];
      squares += r * r;
    }
    return Optional.of(new Contrast(coefficient, Math.sqrt(squares / df / length), df));
  }

  /** The number of columns that are not sums of the others. */
  public static int rank(double[][] columns, int rows) {
    return sweep(columns, new double[rows], new double[rows]);
  }

  /** What is left of y when the columns have explained what they can. */
  public static double[] residuals(double[] y, double[][] columns) {
    double[] rest = y.clone();
    sweep(columns, rest, new double[y.length]);
    return rest;
  }

  /**
   * Takes the columns' share out of both targets; gives the columns' rank. Modified Gram-Schmidt.
   */
  private static int sweep(double[][] columns, double[] first, double[] second) {
    double[][] basis = new double[columns.length][];
    int rank = 0;
    for (double[] column : columns) {
      double[] q = column.clone();
      // Twice is enough (Parlett 1980): the second round takes out what rounding left.
      for (int round = 0; round < 2; round++) for (int k = 0; k < rank; k++) takeOut(basis[k], q);
      double length = Math.sqrt(dot(q, q));
      if (length <= Math.sqrt(ALIASED) * Math.sqrt(dot(column, column)) || length == 0) continue;
      for (int i = 0; i < q.length; i++) q[i] /= length;
      basis[rank++] = q;
      takeOut(q, first);
      takeOut(q, second);
    }
    return rank;
  }

  private static void takeOut(double[] unit, double[] target) {
    double share = dot(unit, target);
    for (int i = 0; i < target.length; i++) target[i] -= share * unit[i];
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) sum += a[i] * b[i];
    return sum;
  }
}
