package milewarden.accuracy.fingerprint;

import java.util.Arrays;

/** Columns of a regression, all of one length. */
final class Columns {
  /** A column of which less than this share of its square is left is no column of its own. */
  static final double OWN = 1e-4;

  private Columns() {}

  static double[][] orthogonal(double[][] columns) {
    int kept = 0;
    double[][] out = new double[columns.length][];
    double[] squares = new double[columns.length];
    for (double[] column : columns) {
      double before = dot(column, column);
      for (int c = 0; c < kept; c++) takeOut(column, out[c], squares[c]);
      double after = dot(column, column);
      if (!(after > OWN * before)) continue;
      squares[kept] = after;
      out[kept++] = column;
    }
    return Arrays.copyOf(out, kept);
  }

  static double[] squares(double[][] columns) {
    double[] out = new double[columns.length];
    for (int c = 0; c < out.length; c++) out[c] = dot(columns[c], columns[c]);
    return out;
  }

  static void takeOut(double[] values, double[][] columns, double[] squares) {
    for (int c = 0; c < columns.length; c++) takeOut(values, columns[c], squares[c]);
  }

  static void takeOut(double[] values, double[] column, double square) {
    double f = dot(values, column) / square;
    for (int i = 0; i < values.length; i++) values[i] -= f * column[i];
  }

  static double dot(double[] a, double[] b) {
    return dot(a, 0, b, a.length);
  }

  /** Four sums side by side: each waits for itself, and four of them no longer than one. */
  static double dot(double[] a, int from, double[] b, int n) {
    double s0 = 0;
    double s1 = 0;
    double s2 = 0;
    double s3 = 0;
    int i = 0;
    for (; i + 3 < n; i += 4) {
      s0 += a[from + i] * b[i];
      s1 += a[from + i + 1] * b[i + 1];
      s2 += a[from + i + 2] * b[i + 2];
      s3 += a[from + i + 3] * b[i + 3];
    }
    for (; i < n; i++) s0 += a[from + i] * b[i];
    return s0 + s1 + (s2 + s3);
  }
}
