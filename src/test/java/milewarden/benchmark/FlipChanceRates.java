package milewarden.benchmark;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;

/**
 * How often the verdict flips at the next look, against the chance that was stated: a campaign of 8
 * baseline sessions and 3 of the candidate, judged; where it isn't settled, three more, judged
 * again. True changes are even over +-5 standard deviations of a session.
 *
 * @param stated mean of the chances stated
 * @param flipped share of the times that the next look said worse, better or changed
 * @param bins by tenths of the stated chance
 */
public record FlipChanceRates(int n, double stated, double flipped, List<Bin> bins) {
  /** The times that a chance within one tenth was stated. */
  public record Bin(int n, double stated, double flipped) {}

  // Session standard deviation in percent, a usual one; the material change is 0.5.
  private static final double SD = 0.4;
  private static final double WIDEST = 5;

  public static void main(String[] args) {
    FlipChanceRates rates = of(100_000, 1);
    System.out.println(
        rates.n + " open comparisons: stated " + rates.stated + ", flipped " + rates.flipped);
    for (Bin b : rates.bins) System.out.println(b);
  }

  /** From so many campaigns; those settled at the first look are left out. */
  public static FlipChanceRates of(int campaigns, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double[][] sums = new double[10][3];
    for (int i = 0; i < campaigns; i++) {
      Campaign c = new Campaign().release("1.0").release("1.1");
      // Far from 0, so that the size of the error moves as the error does.
      c.sessions("1.0", 0, draw(random, 8, 10));
      double shift = (2 * random.nextDouble() - 1) * WIDEST * SD;
      c.sessions("1.1", 40, draw(random, 3, 10 + shift));
      ModelJudgement judged = c.judgeAndKeep(Campaign.FIRST.plusDays(50));
      Optional<Double> stated = chance(judged);
      if (stated.isEmpty()) continue;
      c.sessions("1.1", 60, draw(random, 3, 10 + shift));
      boolean flips =
          flips(
              Campaign.comparison(
                  c.judge(Campaign.FIRST.plusDays(70)), "1.1", Comparison.Against.ANCHOR));
      double[] bin = sums[(int) Math.min(9, 10 * stated.get())];
      bin[0]++;
      bin[1] += stated.get();
      if (flips) bin[2]++;
    }
    return gather(sums);
  }

  private static FlipChanceRates gather(double[][] sums) {
    List<Bin> bins = new ArrayList<>();
    double n = 0;
    double stated = 0;
    double flipped = 0;
    for (double[] s : sums) {
      n += s[0];
      stated += s[1];
      flipped += s[2];
      if (s[0] > 0) bins.add(new Bin((int) s[0], s[1] / s[0], s[2] / s[0]));
    }
    return new FlipChanceRates((int) n, stated / n, flipped / n, bins);
  }

  private static Optional<Double> chance(ModelJudgement judged) {
    return judged.due().stream()
        .filter(d -> d.cause() == DueItem.Cause.COMPARISON_NOT_SETTLED)
        .filter(d -> d.advice().chanceVerdictFlips().isPresent())
        .map(d -> d.advice().chanceVerdictFlips().getAsDouble())
        .findFirst();
  }

  private static boolean flips(Comparison c) {
    return switch (c.outcome()) {
      case WORSE, BETTER, CHANGED -> true;
      case EQUIVALENT, NOT_SETTLED -> false;
    };
  }

  private static double[] draw(SplittableRandom random, int n, double mean) {
    double[] x = new double[n];
    for (int i = 0; i < n; i++) x[i] = mean + SD * random.nextGaussian();
    return x;
  }
}
