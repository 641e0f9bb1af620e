package milewarden.statistics;

import java.util.SplittableRandom;

/**
 * Two-sided permutation test on the difference of two means: the share of all ways to deal the
 * values into the two groups whose difference is at least as large as the one seen.
 */
public final class Permutation {
  // All ways are counted up to here: 12 against 8 sessions are 125,970.
  private static final double MOST_WAYS = 200_000;
  private static final int DRAWS = 19_999;
  // Sums of at most some 50 numbers of size 1e2 round within 1e-11 of each other.
  private static final double TIE = 1e-10;

  private Permutation() {}

  /**
   * The p value; exact where the ways are few enough, else by 19,999 draws with a fixed seed,
   * counting the one seen (Davison and Hinkley 1997, 4.2.5).
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
    return ways(all.length, a.length) <= MOST_WAYS
        ? exact(all, a.length, bar)
        : drawn(all, a.length, bar);
  }

  static double ways(int n, int k) {
    double ways = 1;
    for (int i = 1; i <= k; i++) ways = ways * (n - k + i) / i;
    return ways;
  }

  private static double exact(double[] all, int k, double bar) {
    long[] counts = new long[2];
    deal(all, 0, k, 0, bar, counts);
    return (double) counts[0] / counts[1];
  }

  private static void deal(double[] all, int from, int left, double sum, double bar, long[] count) {
    if (left == 0) {
      count[1]++;
      if (Math.abs(sum) >= bar) count[0]++;
      return;
    }
    for (int i = from; i <= all.length - left; i++)
      deal(all, i + 1, left - 1, sum + all[i], bar, count);
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
