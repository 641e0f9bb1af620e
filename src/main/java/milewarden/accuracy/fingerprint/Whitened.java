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

  private final double[] filter;
  // Where the series begins anew, the number of its values behind the last.
  private final int[] runs;
  private final double[][] nuisance;
  private final double[] squares;
  private final double[] left;
  private final int dropped;

  /** What is the same for every guess: a plain regression on the nuisances. */
  static final class Plain {
    private final double[] series;
    private final double[][] nuisances;
    private final double[][] apart;
    private final double[] rest;
    private final int[] runs;

    /**
     * @param series to be explained
     * @param nuisances columns that may explain it, too
     * @param runs places at which the series begins, rising from 0, and its length at last
     */
    Plain(double[] series, double[][] nuisances, int[] runs) {
      this.series = series;
      this.nuisances = nuisances;
      this.runs = runs;
      double[][] columns = new double[nuisances.length][];
      for (int c = 0; c < columns.length; c++) columns[c] = nuisances[c].clone();
      apart = Columns.orthogonal(columns);
      rest = series.clone();
      Columns.takeOut(rest, apart, Columns.squares(apart));
    }

    /** What is left over when a guess is taken out, too, where it is no nuisance. */
    private double[] without(double[] guess) {
      double[] own = guess.clone();
      double before = Columns.dot(own, own);
      Columns.takeOut(own, apart, Columns.squares(apart));
      double after = Columns.dot(own, own);
      double[] out = rest.clone();
      if (after > Columns.OWN * before) Columns.takeOut(out, own, after);
      return out;
    }
  }

  /**
   * @param guess a column like the one of interest, taken out before the errors are looked at
   */
  Whitened(Plain plain, double[] guess) {
    runs = plain.runs;
    filter = autoregression(plain.without(guess));
    double[][] fresh = new double[plain.nuisances.length][];
    for (int c = 0; c < fresh.length; c++) fresh[c] = fresh(plain.nuisances[c]);
    nuisance = Columns.orthogonal(fresh);
    squares = Columns.squares(nuisance);
    dropped = nuisance.length + ORDER + 1;
    left = rest(plain.series);
  }

  private Whitened(Whitened like, double[] series) {
    runs = like.runs;
    filter = like.filter;
    nuisance = like.nuisance;
    squares = like.squares;
    dropped = like.dropped;
    left = rest(series);
  }

  private double[] rest(double[] series) {
    double[] out = fresh(series);
    Columns.takeOut(out, nuisance, squares);
    return out;
  }

  /** Another series by the same filter beside the same nuisances. */
  Whitened of(double[] series) {
    return new Whitened(this, series);
  }

  /**
   * A column of interest through the same filter, the nuisances taken out: sums alone, since most
   * columns are asked for no more.
   */
  final class Own {
    private final double[] fresh;
    private final double[] shares = new double[nuisance.length];

    /** Sum of the squares of what is left of it; 0 where too little is. */
    final double square;

    private Own(double[] column) {
      fresh = fresh(column);
      double before = Columns.dot(fresh, fresh);
      double after = before;
      for (int c = 0; c < shares.length; c++) {
        double product = Columns.dot(fresh, nuisance[c]);
        shares[c] = product / squares[c];
        after -= shares[c] * product;
      }
      square = after > Columns.OWN * before ? after : 0;
    }

    /** Sum of the products of what is left of a series with what is left of this column. */
    double with(Whitened series) {
      // What is left of the series knows no nuisance.
      return square > 0 ? Columns.dot(fresh, series.left) : 0;
    }

    /**
     * Variance of the fresh errors behind this column times a coefficient; where they are larger at
     * places that matter for the coefficient, the variance there.
     */
    double variance(double coefficient) {
      double[] own = fresh.clone();
      for (int c = 0; c < shares.length; c++)
        for (int i = 0; i < own.length; i++) own[i] -= shares[c] * nuisance[c][i];
      double errors = 0;
      double weighted = 0;
      for (int i = 0; i < own.length; i++) {
        double e = left[i] - coefficient * own[i];
        errors += e * e;
        weighted += own[i] * own[i] * e * e;
      }
      double few = Math.max(1, own.length - dropped);
      double plain = errors / few;
      return square > 0 ? Math.max(plain, weighted / square * own.length / few) : plain;
    }
  }

  Own own(double[] column) {
    return new Own(column);
  }

  private double[] fresh(double[] values) {
    double[] out = new double[values.length];
    // Behind the last of a short filter nothing counts.
    double[] f = Arrays.copyOf(filter, ORDER);
    for (int r = 0; r + 1 < runs.length; r++) {
      int whole = Math.min(runs[r] + ORDER, runs[r + 1]);
      for (int i = runs[r] + filter.length; i < whole; i++) {
        double sum = values[i];
        for (int k = 0; k < filter.length; k++) sum -= filter[k] * values[i - 1 - k];
        out[i] = sum;
      }
      fresh(values, f, whole, runs[r + 1], out);
    }
    return out;
  }

  private static void fresh(double[] v, double[] f, int from, int to, double[] out) {
    double f0 = f[0];
    double f1 = f[1];
    double f2 = f[2];
    double f3 = f[3];
    double f4 = f[4];
    double f5 = f[5];
    double f6 = f[6];
    double f7 = f[7];
    for (int i = from; i < to; i++)
      out[i] =
          (((v[i] - f0 * v[i - 1]) - f1 * v[i - 2]) - f2 * v[i - 3])
              - f3 * v[i - 4]
              - f4 * v[i - 5]
              - f5 * v[i - 6]
              - f6 * v[i - 7]
              - f7 * v[i - 8];
  }

  /** Yule and Walker's equations by Levinson's recursion (Brockwell and Davis 1991, 5.2). */
  private static double[] autoregression(double[] rest) {
    double[] c = new double[ORDER + 1];
    for (int k = 0; k <= ORDER; k++) c[k] = Columns.dot(rest, k, rest, rest.length - k);
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
}
