package milewarden.benchmark;

import java.util.Locale;
import java.util.SplittableRandom;
import milewarden.statistics.Cusum;
import milewarden.statistics.Sample;
import milewarden.verdict.CoverageRates;
import milewarden.verdict.CoverageRates.Coverage;
import milewarden.verdict.CoverageRates.Lab;

/** Coverage of the intervals, flips of the threshold and run lengths of the charts. */
public final class CoverageBenchmark {
  private CoverageBenchmark() {}

  /** With the number of replications; 100,000 where none is given. */
  public static void main(String[] args) {
    int n = args.length > 0 ? Integer.parseInt(args[0]) : 100_000;
    System.out.println("coverage of 95 % intervals: mean, next run; " + n + " replications");
    Lab[] labs = {
      new Lab(3, 1, 1, 1, 0, 0, 0),
      new Lab(6, 1, 1, 1, 0, 0, 0),
      new Lab(12, 1, 1, 1, 0, 0, 0),
      new Lab(3, 1, 2, 1, 0.5, 0, 0),
      new Lab(6, 1, 2, 1, 0.5, 0, 0),
      new Lab(6, 1, 2, 0.3, 1, 0, 0),
      new Lab(8, 1, 2, 0.3, 1, 0, 0),
      new Lab(8, 2, 2, 0.5, 0.5, 0, 0),
      new Lab(8, 1, 2, 0.5, 0.5, 0, 0.3),
      new Lab(6, 1, 2, 0.5, 0.5, 0, 1),
      new Lab(8, 4, 2, 0.5, 0.5, 0.5, 0),
      new Lab(12, 5, 2, 0.5, 0.5, 0.5, 0.1),
      new Lab(8, 4, 2, 0.5, 0.5, 0.2, 0),
    };
    for (int i = 0; i < labs.length; i++) {
      Coverage c = CoverageRates.coverage(labs[i], 31 + i, n);
      System.out.printf("%-100s %s  %s%n", labs[i], c.mean(), c.next());
    }
    System.out.printf(
        Locale.ROOT,
        "flips per 20 sessions at a bias of exactly the limit: %.4f%n",
        CoverageRates.flipsAtTheLimit(50, n));
    runLengths(Math.max(1, n / 20));
  }

  private static void runLengths(int runs) {
    SplittableRandom random = new SplittableRandom(60);
    double[] own = new double[runs];
    double[] known = new double[runs];
    for (int run = 0; run < runs; run++) {
      // A chart that never signalled in 6,000 sessions is cut there: one in 400,000.
      double[] x = new double[6_000];
      for (int i = 0; i < x.length; i++) x[i] = random.nextGaussian();
      own[run] = Cusum.of(Cusum.selfStarting(x), 0.5, 5).signalAt().orElse(x.length) - 1;
      known[run] = Cusum.of(x, 0.5, 5).signalAt().orElse(x.length) + 1;
    }
    System.out.printf(
        Locale.ROOT,
        "average run length without a shift: known parameters %.0f, self-starting %.0f, +-%.0f%n",
        Sample.of(known).mean(),
        Sample.of(own).mean(),
        1.96 * Sample.of(known).sd() / Math.sqrt(runs));
  }
}
