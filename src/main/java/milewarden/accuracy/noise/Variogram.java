package milewarden.accuracy.noise;

import java.util.Arrays;

/**
 * How far apart offsets are, against how many fixes lie between them; and the plain noise that fits
 * it: a fresh part of variance W and a lasting part of variance A with correlation time T, so that
 * the mean square of a difference over a lag k is 2 W + 2 A (1 - exp(-k / T)).
 *
 * <p>Fitted to lags of {@value #FIRST_LAG} intervals and more: shorter lags are the weave itself,
 * which is to be explained (ENGINE section 7). A difference knows no mean, so a constant shift is
 * no noise, and rounding to a grid shows as fresh noise, which it is.
 */
final class Variogram {
  static final int FIRST_LAG = 5;

  /** Parts of the series, each of which is left out once to see how sure the fit is. */
  static final int BLOCKS = 10;

  private static final double LAG_GROWTH = 1.25;
  private static final int LONGEST_LAG = 120;

  // Candidates of T in intervals: shorter ones can't be told from fresh noise at lags from 5 on.
  private static final double SHORTEST = 2;
  private static final double GROWTH = 1.15;
  private static final int CANDIDATES = 45;

  // Mean of the root of the size of a standard normal, to the fourth: a difference's variance from
  // roots, which a few outliers hardly move. Cressie and Hawkins (1980), Robust estimation of the
  // variogram, J. Math. Geology 12, 115-125; the value is (2^(1/4) Gamma(3/4) / sqrt(pi))^4.
  private static final double ROOTS = 0.45694658;

  private static final int[] LAGS = lags();
  private static final double[][] RISES = rises();

  private final int[] lag;
  private final double[][] roots;
  private final int[][] counts;
  private final Fit[] without = new Fit[BLOCKS];
  private final Fit[] unboundedWithout = new Fit[BLOCKS];

  /** What fits. {@code lastsIntervals} is of no meaning where {@code lasting} is 0. */
  record Fit(double fresh, double lasting, double lastsIntervals, double misfit) {
    /** s^2 of the error of a step over {@code thin} intervals, per axis. */
    double stepVariance(double thin) {
      return 2 * fresh + 2 * lasting * (1 - Math.exp(-thin / lastsIntervals));
    }
  }

  /**
   * @param offset of the fixes in their order, metres; 30 or more
   */
  Variogram(double[] offset) {
    int n = offset.length;
    lag = upTo(Math.min(LONGEST_LAG, n / 4));
    roots = new double[lag.length][BLOCKS];
    counts = new int[lag.length][BLOCKS];
    for (int l = 0; l < lag.length; l++) {
      int k = lag[l];
      for (int b = 0; b < BLOCKS; b++) {
        int from = (int) ((long) n * b / BLOCKS);
        int to = Math.min(n - k, (int) ((long) n * (b + 1) / BLOCKS));
        double sum = 0;
        for (int i = from; i < to; i++) sum += Math.sqrt(Math.abs(offset[i + k] - offset[i]));
        roots[l][b] = sum;
        counts[l][b] = Math.max(0, to - from);
      }
    }
    for (int b = 0; b < BLOCKS; b++) {
      Points points = points(b);
      without[b] = fit(points, true);
      unboundedWithout[b] = unbounded(points, without[b].lastsIntervals);
    }
  }

  /** 1 - exp(-k / T) of every candidate and lag: the same for every series. */
  private static double[][] rises() {
    double[][] out = new double[CANDIDATES][LAGS.length];
    double t = SHORTEST;
    for (int c = 0; c < CANDIDATES; c++, t *= GROWTH)
      for (int l = 0; l < LAGS.length; l++) out[c][l] = 1 - Math.exp(-LAGS[l] / t);
    return out;
  }

  private static int[] lags() {
    int[] all = new int[LONGEST_LAG];
    int count = 0;
    double next = FIRST_LAG;
    for (int k = FIRST_LAG; k <= LONGEST_LAG; k = (int) next) {
      all[count++] = k;
      while ((int) next <= k) next *= LAG_GROWTH;
    }
    return Arrays.copyOf(all, count);
  }

  private static int[] upTo(int longest) {
    int count = 0;
    while (count < LAGS.length && LAGS[count] <= longest) count++;
    return Arrays.copyOf(LAGS, count);
  }

  /**
   * What fits the whole series. A fresh part that its own scatter could have made is none: taken at
   * its word it would be most of what a step of a lasting error adds.
   */
  Fit fit() {
    Points points = points(-1);
    Fit free = fit(points, true);
    if (free.fresh == 0 || free.lasting == 0) return free;
    double[] fresh = new double[BLOCKS];
    for (int b = 0; b < BLOCKS; b++) fresh[b] = fitWithout(b).fresh;
    return free.fresh > Offsets.T_BLOCKS * Offsets.jackknife(fresh) ? free : fit(points, false);
  }

  /** The same without one part of the series, whatever its fresh part. */
  Fit fitWithout(int block) {
    return without[block];
  }

  /**
   * The same for the time that fits there, where the fresh part may be below 0, which no noise is:
   * so that it scatters from part to part as if no bound held it. A value held at its bound is no
   * further from a truth within the bounds, but hides how unsure it is.
   */
  Fit unboundedWithout(int block) {
    return unboundedWithout[block];
  }

  /** Whether this noise is as strong in one part as in another, as the fit lets it scatter. */
  Evenness evenness(Fit fit) {
    double[] mean = new double[BLOCKS];
    double[] independent = new double[BLOCKS];
    int most = 0;
    for (int count : counts[0]) most = Math.max(most, count);
    double[] half = new double[most + FIRST_LAG];
    for (int k = 1; k < half.length; k++) half[k] = fit.stepVariance(k) / 2;
    for (int b = 0; b < BLOCKS; b++) {
      if (counts[0][b] == 0) continue;
      mean[b] = roots[0][b] / counts[0][b];
      independent[b] = counts[0][b] / overlap(fit.stepVariance(FIRST_LAG), half, counts[0][b]);
    }
    return Evenness.of(mean, independent);
  }

  /**
   * How many differences over {@link #FIRST_LAG} are worth one independent: 1 + 2 sum r^2, r their
   * autocorrelation by the fit. A function of a normal that knows no sign is correlated by r^2 at
   * most (Mehler's formula; Pfister, from memory).
   *
   * @param half half squares of differences, by how many steps lie between
   */
  private static double overlap(double variance, double[] half, int count) {
    double sum = 1;
    for (int k = 1; k < count && variance > 0; k++) {
      // Covariance of x(i+l) - x(i) and x(i+l+k) - x(i+k) by half squares of differences.
      double r = (half[k + FIRST_LAG] + half[Math.abs(k - FIRST_LAG)] - 2 * half[k]) / variance;
      sum += 2 * r * r * (1 - k / (double) count);
    }
    return sum;
  }

  /** What is fitted to: each lag's mean square, and its weight. */
  private record Points(double[] square, double[] weight) {}

  /**
   * @param without the part that is left out; -1 for none
   */
  private Points points(int without) {
    double[] square = new double[lag.length];
    double[] weight = new double[lag.length];
    for (int l = 0; l < lag.length; l++) {
      double sum = 0;
      int count = 0;
      for (int b = 0; b < BLOCKS; b++) {
        if (b == without) continue;
        sum += roots[l][b];
        count += counts[l][b];
      }
      double mean = count > 0 ? sum / count : 0;
      square[l] = mean * mean * mean * mean / ROOTS;
      // Scatter of a mean square grows with itself, and neighbours overlap by the lag.
      weight[l] = square[l] > 0 ? count / (square[l] * square[l] * lag[l]) : 0;
    }
    return new Points(square, weight);
  }

  private Fit fit(Points points, boolean freshToo) {
    Fit best = new Fit(0, 0, SHORTEST, Double.POSITIVE_INFINITY);
    double t = SHORTEST;
    for (int c = 0; c < CANDIDATES && t <= 2.0 * lag[lag.length - 1]; c++, t *= GROWTH) {
      Fit f = at(t, RISES[c], points, freshToo);
      if (f.misfit < best.misfit) best = f;
    }
    return best;
  }

  /** Least squares in W and A, neither below 0. */
  private Fit at(double t, double[] rise, Points points, boolean freshToo) {
    Sums sums = new Sums(rise, points);
    double a = sums.slope();
    double fresh = sums.intercept(a);
    if (freshToo && !(a > 0)) {
      a = 0;
      fresh = sums.wy / sums.w;
    } else if (!freshToo || !(fresh > 0)) {
      fresh = 0;
      a = sums.wxy / sums.wxx;
    }
    return new Fit(fresh, a, t, sums.misfit(fresh, a));
  }

  /** Least squares for one time, whatever the sign of W. */
  private Fit unbounded(Points points, double t) {
    double[] rise = new double[lag.length];
    for (int l = 0; l < lag.length; l++) rise[l] = 1 - Math.exp(-lag[l] / t);
    Sums sums = new Sums(rise, points);
    double a = sums.slope();
    double fresh = sums.intercept(a);
    return new Fit(fresh, a, t, sums.misfit(fresh, a));
  }

  /** Sums over the lags of weight, rise x and half the mean square y. */
  private static final class Sums {
    private double w;
    private double wx;
    private double wy;
    private double wxx;
    private double wxy;
    private double wyy;

    Sums(double[] rise, Points points) {
      for (int l = 0; l < points.weight.length; l++) {
        double weight = points.weight[l];
        double x = rise[l];
        double y = points.square[l] / 2;
        w += weight;
        wx += weight * x;
        wy += weight * y;
        wxx += weight * x * x;
        wxy += weight * x * y;
        wyy += weight * y * y;
      }
    }

    double slope() {
      double spread = w * wxx - wx * wx;
      return spread > 1e-12 * w * wxx ? (w * wxy - wx * wy) / spread : 0;
    }

    double intercept(double slope) {
      return (wy - slope * wx) / w;
    }

    double misfit(double fresh, double a) {
      return wyy
          - 2 * (fresh * wy + a * wxy)
          + fresh * fresh * w
          + 2 * fresh * a * wx
          + a * a * wxx;
    }
  }
}
