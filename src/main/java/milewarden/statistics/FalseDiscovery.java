package milewarden.statistics;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/** Many tests at once. */
public final class FalseDiscovery {
  private FalseDiscovery() {}

  /**
   * Which of the tests stand when the expected share of false ones among them is to be at most q.
   *
   * @param p in any order
   * @return one answer per test, in the same order
   * @see "Benjamini and Hochberg (1995), J. Royal Statistical Society B 57, 289-300"
   */
  public static boolean[] benjaminiHochberg(double[] p, double q) {
    Integer[] order = IntStream.range(0, p.length).boxed().toArray(Integer[]::new);
    Arrays.sort(order, Comparator.comparingDouble(i -> p[i]));
    int last = -1;
    for (int k = 0; k < order.length; k++) if (p[order[k]] <= (k + 1.0) / p.length * q) last = k;
    boolean[] stands = new boolean[p.length];
    for (int k = 0; k <= last; k++) stands[order[k]] = true;
    return stands;
  }
}
