package milewarden.accuracy.fingerprint;

import java.util.Arrays;

/**
 * Regression of a series whose errors last: both sides go through the filter that makes the errors
 * fresh, an autoregression fitted to what the first, plain regression leaves over.
 *
 * <p>Nuisances are taken out of everything, so that one column of interest can be held against what
 * is left, with a variance that also holds where the errors are larger in places.
 *
 * @see "Prais and Winsten (1954) for the filter; White (1980), Econometrica 48, 817-838 for the
 *     error; both from memory"
 */
final class Whitened {
  private static final int ORDER = 8;
  // A column of which less than this is left is no column of its own.
  private static final double OWN = 1e-4;

  private final double[] filter;
  private final boolean[] begins;
  private final double[][] nuisance;
  private final double[] left;
  private final int dropped;

  /**
   * @param series to be explained
   * @param nuisances columns that may explain it, too
   * @param guess a column like the one of interest, taken out before the errors are looked at
   * @param begins true at points at which the series begins anew
   */
  Whitened(double[] series, double[][] nuisances, double[] guess, boolean[] begins) {
    this.begins = begins;
    double[][] plain = new double[nuisances.length + 1][];
    for (int c = 0; c < nuisances.length; c++) plain[c] = nuisances[c].clone();
    plain[nuisances.length] = guess.clone();
    double[] rest = series.clone();
    for (double[] column : orthogonal(plain)) takeOut(rest, column);
    filter = autoregression(rest);
    double[][] fresh = new double[nuisances.length][];
    for (int c = 0; c < fresh.length; c++) fresh[c] = fresh(nuisances[c]);
    nuisance = orthogonal(fresh);
    dropped = nuisance.length + ORDER + 1;
    left = fresh(series);
    for (double[] column : nuisance) takeOut(left, column);
  }

  private Whitened(Whitened like, double[] series) {
    begins = like.begins;
    filter = like.filter;
    nuisance = like.nuisance;
    dropped = like.dropped;
    left = fresh(series);
    for (double[] column : nuisance) takeOut(left, column);
  }

  /** Another series by the same filter beside the same nuisances. */
  Whitened of(double[] series) {
    return new Whitened(this, series);
  }

  /** A column through the same filter, the nuisances taken out; all zeros where it is one. */
  double[] own(double[] column) {
    double[] x = fresh(column);
    double before = dot(x, x);
    for (double[] n : nuisance) takeOut(x, n);
    if (!(dot(x, x) > OWN * before)) Arrays.fill(x, 0);
    return x;
  }

  /** Sum of the products of what is left of the series with a column of {@link #own}. */
  double with(double[] own) {
    return dot(own, left);
  }

  /**
   * Variance of the fresh errors behind a column of {@link #own} times a coefficient; where they
   * are larger at places that matter for the coefficient, the variance there.
   */
  double variance(double[] own, double coefficient) {
    double squares = 0;
    double sum = 0;
    for (int i = 0; i < own.length; i++) {
      double e = left[i] - coefficient * own[i];
      squares += e * e;
      sum += own[i] * own[i] * e * e;
    }
    double size = dot(own, own);
    double few = Math.max(1, own.length - dropped);
    double plain = squares / few;
    return size > 0 ? Math.max(plain, sum / size * own.length / few) : plain;
  }

  private double[] fresh(double[] values) {
    double[] out = new double[values.length];
    int run = 0;
    for (int i = 0; i < values.length; i++) {
      run = begins[i] ? 0 : run + 1;
      if (run < filter.length) continue;
      double sum = values[i];
      for (int k = 0; k < filter.length; k++) sum -= filter[k] * values[i - 1 - k];
      out[i] = sum;
    }
    return out;
  }

  /** Yule and Walker's equations by Levinson's recursion (Brockwell and Davis 1991, 5.2). */
  private static double[] autoregression(double[] rest) {
    double[] c = new double[ORDER + 1];
    for (int k = 0; k <= ORDER; k++)
      for (int i = k; i < rest.length; i++) c[k] += rest[i] * rest[i - k];
    double[] a = new double[0];
    double variance = c[0];
    for (int k = 1; k <= ORDER && variance > 1e-12 * c[0]; k++) {
      double r = c[k];
      for (int i = 0; i < k - 1; i++) r -= a[i] * c[k - 1 - i];
      r /= variance;
      double[] next = Arrays.copyOf(a, k);
      for (int i = 0; i < k - 1; i++) next[i] = a[i] - r * a[k - 2 - i];
      next[k - 1] = r;
      a = next;
      variance *= 1 - r * r;
    }
    return a;
  }

  private static double[][] orthogonal(double[][] columns) {
    int kept = 0;
    double[][] out = new double[columns.length][];
    for (double[] column : columns) {
      double before = dot(column, column);
      for (int c = 0; c < kept; c++) takeOut(column, out[c]);
      if (dot(column, column) > OWN * before) out[kept++] = column;
    }
    return Arrays.copyOf(out, kept);
  }

  private static void takeOut(double[] values, double[] column) {
    double f = dot(values, column) / dot(column, column);
    for (int i = 0; i < values.length; i++) values[i] -= f * column[i];
  }

  static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) sum += a[i] * b[i];
    return sum;
  }
}
