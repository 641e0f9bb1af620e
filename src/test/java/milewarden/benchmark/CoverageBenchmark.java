package milewarden.benchmark;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import milewarden.statistics.Cusum;
import milewarden.verdict.CoverageRates;
import milewarden.verdict.CoverageRates.Coverage;
import milewarden.verdict.CoverageRates.Lab;
import milewarden.verdict.Replications;

/** Coverage of the intervals, flips of the threshold and run lengths of the charts. */
public final class CoverageBenchmark {
  // A chart that has not signalled by then is cut there: one in a million.
  private static final int LONGEST = 8_192;

  private CoverageBenchmark() {}

  /**
   * With the number of replications, 100,000 where none is given, and the parts that are wanted:
   * labs, threshold, charts; all of them where none is.
   */
  public static void main(String[] args) {
    int n = args.length > 0 ? Integer.parseInt(args[0]) : 100_000;
    List<String> wanted = List.of(args).subList(Math.min(1, args.length), args.length);
    if (wanted.isEmpty() || wanted.contains("labs")) labs(n);
    if (wanted.isEmpty() || wanted.contains("threshold"))
      System.out.printf(
          Locale.ROOT,
          "flips per 20 sessions at a bias of exactly the limit: %.4f%n",
          CoverageRates.flipsAtTheLimit(50, n));
    if (wanted.isEmpty() || wanted.contains("charts")) runLengths(n);
  }

  private static void labs(int n) {
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
  }

  private static void runLengths(int runs) {
    // Sums and sums of squares: known parameters, self-starting.
    double[] sums =
        Replications.counts(
            60,
            runs,
            4,
            (random, sum) -> {
              double[] x = more(new double[0], random);
              int known = -1;
              int own = -1;
              for (; known < 0 || own < 0; x = more(x, random)) {
                boolean last = x.length >= LONGEST;
                if (known < 0) known = length(Cusum.of(x, 0.5, 5), x, last);
                if (own < 0) own = length(Cusum.of(Cusum.selfStarting(x), 0.5, 5), x, last);
              }
              // Its first two sessions give nothing.
              own -= 2;
              sum[0] += known;
              sum[1] += (double) known * known;
              sum[2] += own;
              sum[3] += (double) own * own;
            });
    say("known parameters", sums[0], sums[1], runs);
    say("self-starting", sums[2], sums[3], runs);
  }

  private static void say(String what, double sum, double squares, int n) {
    double mean = sum / n;
    double error = Math.sqrt((squares / n - mean * mean) / n);
    System.out.printf(
        Locale.ROOT,
        "average run length without a shift, %s, %d runs: %.1f +-%.1f%n",
        what,
        n,
        mean,
        1.96 * error);
  }

  /** Sessions up to the signal; -1 where there was none yet. */
  private static int length(Cusum chart, double[] x, boolean last) {
    return chart.signalAt().isPresent() ? chart.signalAt().getAsInt() + 1 : last ? x.length : -1;
  }

  /** Twice as many sessions, the first of them the same; 256 to begin with. */
  private static double[] more(double[] x, SplittableRandom random) {
    double[] longer = Arrays.copyOf(x, Math.max(256, 2 * x.length));
    for (int i = x.length; i < longer.length; i++) longer[i] = random.nextGaussian();
    return longer;
  }
}
