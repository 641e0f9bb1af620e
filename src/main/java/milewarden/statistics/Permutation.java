package milewarden.statistics;

import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Two-sided permutation test on the difference of two means: the share of all ways to deal the
 * values into the two groups whose difference is at least as large as the one seen.
 */
public final class Permutation {
  // Each half of the values has 2^n sums: up to here a count takes milliseconds. Every comparison
  // of 12 sessions against up to 24 is exact.
  private static final int MOST_VALUES = 36;
  private static final int DRAWS = 19_999;
  // Sums of at most some 50 numbers of size 1e2 round within 1e-11 of each other.
  private static final double TIE = 1e-10;

  private Permutation() {}

  /**
   * The p value; exact for 36 values or fewer, else by 19,999 draws with a fixed seed, counting the
   * one seen (Davison and Hinkley 1997, 4.2.5).
   *
   * @param a and b: not empty
   */
  public static double p(double[] a, double[] b) {
    double[] all = new double[a.length + b.length];
    System.arraycopy(a, 0, all, 0, a.length);
    System.arraycopy(b, 0, all, a.length, b.length);
    double mean = Sample.of(all).mean();
    for (int i = 0; i < all.length; i++) all[i] -= mean;
    // With the grand mean taken out, the difference is proportional to the sum of one group.
    double seen = 0;
    for (int i = 0; i < a.length; i++) seen += all[i];
    double bar = Math.abs(seen) - TIE;
    int k = Math.min(a.length, b.length);
    return all.length <= MOST_VALUES ? exact(all, k, bar) : drawn(all, k, bar);
  }

  /**
   * Counts the groups of k whose sum is beyond the bar on either side without listing them: the
   * sums of each half of the values, sorted by size of the subset, then one walk over each pair.
   *
   * @see "Horowitz and Sahni (1974), J. ACM 21, 277-292: the two-list algorithm"
   */
  private static double exact(double[] all, int k, double bar) {
    int half = all.length / 2;
    double[][] first = sums(Arrays.copyOf(all, half), k);
    double[][] second = sums(Arrays.copyOfRange(all, half, all.length), k);
    double hits = 0;
    double ways = 0;
    for (int i = Math.max(0, k - (all.length - half)); i <= Math.min(k, half); i++) {
      double[] x = first[i];
      double[] y = second[k - i];
      ways += (double) x.length * y.length;
      hits += bar <= 0 ? (double) x.length * y.length : beyond(x, y, bar);
    }
    return hits / ways;
  }

  // Each step of the walks and of the merge goes one way or the other by chance. They are written
  // without a branch that the processor would guess wrong: three times as fast. Each step waits for
  // the one before, so that several ways are gone at once, in the walks from either end.
  /** How many sums of one of each are at least the bar, or at most its negative. */
  private static double beyond(double[] x, double[] y, double bar) {
    long pairs = 0;
    int i = 0;
    int j = y.length;
    int m = x.length - 1;
    int n = 0;
    int i2 = 0;
    int j2 = y.length;
    int m2 = m;
    int n2 = 0;
    while (i < m && j > 0 && n < y.length && i2 < m2 && j2 > 0 && n2 < y.length) {
      int reaches = x[i] + y[j - 1] >= bar ? 1 : 0;
      int below = x[m] + y[n] < bar ? 1 : 0;
      int above = x[i2] + y[j2 - 1] > -bar ? 1 : 0;
      int within = x[m2] + y[n2] <= -bar ? 1 : 0;
      j -= reaches;
      n += below;
      j2 -= above;
      n2 += within;
      pairs += (1L - reaches) * (y.length - j) + (1L - below) * (y.length - n);
      pairs += (1L - above) * j2 + (1L - within) * n2;
      i += 1 - reaches;
      m -= 1 - below;
      i2 += 1 - above;
      m2 -= 1 - within;
    }
    return pairs + atLeast(x, y, bar, i, j, m, n) + atMost(x, y, -bar, i2, j2, m2, n2);
  }

  /** The rest of the walk from where it is: {@code first} to {@code last} of x are left. */
  private static double atLeast(
      double[] x, double[] y, double bar, int first, int toY, int last, int fromY) {
    long pairs = 0;
    int i = first;
    int j = toY;
    int m = last;
    int n = fromY;
    while (i < m && j > 0 && n < y.length) {
      int reaches = x[i] + y[j - 1] >= bar ? 1 : 0;
      int below = x[m] + y[n] < bar ? 1 : 0;
      j -= reaches;
      n += below;
      pairs += (1L - reaches) * (y.length - j) + (1L - below) * (y.length - n);
      i += 1 - reaches;
      m -= 1 - below;
    }
    // From the upper end on nothing reaches the bar.
    if (n == y.length) return pairs;
    for (; i <= m && j > 0; i++) {
      while (j > 0 && x[i] + y[j - 1] >= bar) j--;
      pairs += y.length - j;
    }
    return pairs + (m + 1.0 - i) * y.length;
  }

  private static double atMost(
      double[] x, double[] y, double bar, int first, int toY, int last, int fromY) {
    long pairs = 0;
    int i = first;
    int j = toY;
    int m = last;
    int n = fromY;
    while (i < m && j > 0 && n < y.length) {
      int beyond = x[i] + y[j - 1] > bar ? 1 : 0;
      int within = x[m] + y[n] <= bar ? 1 : 0;
      j -= beyond;
      n += within;
      pairs += (1L - beyond) * j + (1L - within) * n;
      i += 1 - beyond;
      m -= 1 - within;
    }
    // From the upper end on all are within.
    if (n == y.length) return pairs + (m + 1.0 - i) * y.length;
    for (; i <= m && j > 0; i++) {
      while (j > 0 && x[i] + y[j - 1] > bar) j--;
      pairs += j;
    }
    return pairs;
  }

  /**
   * The sums of all subsets of at most so many values, by their size, ascending: each value merges
   * in what is sorted. What a subset of more than half of the values leaves out is one of fewer.
   */
  private static double[][] sums(double[] values, int most) {
    double[][] sums = {{0}};
    double total = 0;
    for (int n = 1; n <= values.length; n++) {
      double v = values[n - 1];
      total += v;
      double[][] next = new double[Math.min(n, most) + 1][];
      next[0] = sums[0];
      for (int size = 1; size < next.length; size++)
        next[size] =
            2 * size > n ? mirrored(next[n - size], total) : merged(sums[size], sums[size - 1], v);
      sums = next;
    }
    return sums;
  }

  private static double[] mirrored(double[] sorted, double total) {
    double[] all = new double[sorted.length];
    for (int i = 0; i < all.length; i++) all[i] = total - sorted[all.length - 1 - i];
    return all;
  }

  private static double[] merged(double[] without, double[] with, double by) {
    double[] all = new double[without.length + with.length];
    int i = 0;
    int j = 0;
    int m = without.length - 1;
    int n = with.length - 1;
    // From both ends: neither can run out of values before they meet in the middle.
    int ahead = Math.min(all.length / 2, Math.min(without.length, with.length));
    for (int at = 0; at < ahead; at++) {
      double one = without[i];
      double other = with[j] + by;
      double last = without[m];
      double latter = with[n] + by;
      all[at] = Math.min(one, other);
      all[all.length - 1 - at] = Math.max(last, latter);
      int taken = one <= other ? 1 : 0;
      int given = latter >= last ? 1 : 0;
      i += taken;
      j += 1 - taken;
      n -= given;
      m -= 1 - given;
    }
    while (i <= m && j <= n) {
      double one = without[i];
      double other = with[j] + by;
      all[i + j] = Math.min(one, other);
      int taken = one <= other ? 1 : 0;
      i += taken;
      j += 1 - taken;
    }
    for (; i <= m; i++) all[i + j] = without[i];
    for (; j <= n; j++) all[i + j] = with[j] + by;
    return all;
  }

  private static double drawn(double[] all, int k, double bar) {
    SplittableRandom random = new SplittableRandom(20_260_101L);
    double[] deck = all.clone();
    int hits = 1;
    for (int draw = 0; draw < DRAWS; draw++) {
      double sum = 0;
      for (int i = 0; i < k; i++) {
        int j = i + random.nextInt(deck.length - i);
        double swap = deck[i];
        deck[i] = deck[j];
        deck[j] = swap;
        sum += deck[i];
      }
      if (Math.abs(sum) >= bar) hits++;
    }
    return hits / (DRAWS + 1.0);
  }
}
