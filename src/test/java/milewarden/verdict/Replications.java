package milewarden.verdict;

import java.util.SplittableRandom;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** Replications on all processors; what comes out depends on the seed and the number alone. */
public final class Replications {
  private static final int PIECES = 64;

  private Replications() {}

  /** One replication, which adds to the counts. */
  @FunctionalInterface
  public interface One {
    void run(SplittableRandom random, double[] counts);
  }

  /** The counts of {@code n} replications; whole numbers, so their order is no matter. */
  public static double[] counts(long seed, int n, int counts, One one) {
    SplittableRandom root = new SplittableRandom(seed);
    SplittableRandom[] random =
        Stream.generate(root::split).limit(PIECES).toArray(SplittableRandom[]::new);
    return IntStream.range(0, PIECES)
        .parallel()
        .mapToObj(
            piece -> {
              double[] own = new double[counts];
              long last = (long) n * (piece + 1) / PIECES;
              for (long i = (long) n * piece / PIECES; i < last; i++) one.run(random[piece], own);
              return own;
            })
        .reduce(new double[counts], Replications::sum);
  }

  private static double[] sum(double[] a, double[] b) {
    double[] sum = a.clone();
    for (int i = 0; i < sum.length; i++) sum[i] += b[i];
    return sum;
  }
}
