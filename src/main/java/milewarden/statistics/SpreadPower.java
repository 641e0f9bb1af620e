package milewarden.statistics;

import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.concurrent.ConcurrentHashMap;

/** How often the test of Brown and Forsythe finds a spread that truly differs. */
public final class SpreadPower {
  // A share of 4,000 is right within 1.6 points (two standard errors at one half).
  private static final int DRAWS = 4_000;
  private static final long SEED = 1974;

  // Asked for with the same few numbers by every look at a page.
  private static final int MOST = 1_000;
  private static final Map<List<Double>, Double> KNOWN = new ConcurrentHashMap<>();

  private SpreadPower() {}

  /**
   * The chance that the test is below alpha, by simulation of normal values with a fixed seed: it
   * has no closed form.
   *
   * @param candidates and baselines: sessions of each, 2 or more
   * @param ratio of the true standard deviations
   * @param alpha what p is held against
   */
  public static double of(int candidates, int baselines, double ratio, double alpha) {
    if (KNOWN.size() > MOST) KNOWN.clear();
    return KNOWN.computeIfAbsent(
        List.of((double) candidates, (double) baselines, ratio, alpha),
        k -> simulated(candidates, baselines, ratio, alpha));
  }

  private static double simulated(int candidates, int baselines, double ratio, double alpha) {
    SplittableRandom random = new SplittableRandom(SEED);
    int found = 0;
    for (int i = 0; i < DRAWS; i++) {
      double[] c = new double[candidates];
      for (int j = 0; j < candidates; j++) c[j] = ratio * random.nextGaussian();
      double[] b = new double[baselines];
      for (int j = 0; j < baselines; j++) b[j] = random.nextGaussian();
      if (BrownForsythe.of(c, b).p() < alpha) found++;
    }
    return found / (double) DRAWS;
  }
}
