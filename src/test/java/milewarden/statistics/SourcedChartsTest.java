package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import org.apache.commons.statistics.inference.OneWayAnova;
import org.apache.commons.statistics.inference.TTest;
import org.junit.jupiter.api.Test;

/** What is watched and tested, against published series and a general-purpose library. */
final class SourcedChartsTest {
  @Test
  void theFallOfTheNileIsFoundWhereItIsPublished() {
    // Annual flow at Aswan, 1871 to 1970: one break after 1898 (observation 28), its 95 % interval
    // 1895 to 1902 (Cobb 1978; Zeileis et al. 2003). The chart knows no parameter beforehand.
    double[] flow = Published.column("charts/nile_annual_flow.csv", "flow");
    Cusum chart = Cusum.of(Cusum.selfStarting(flow), 0.5, 5);
    int at = chart.signalAt().orElseThrow();
    assertThat(1871 + at).isBetween(1899, 1902);
    assertThat(chart.low().get(at)).isGreaterThan(5);
    assertThat(chart.high().get(at)).isEqualTo(0);
  }

  @Test
  void theScoresAreStudentsOfTheNewValueAgainstThoseBefore() {
    // Hawkins (1987): the score of x_i is that of the two-sample t of one value against the rest;
    // commons-statistics gives that t's p.
    double[] x = {0.3, 1.1, -0.4, 0.9, 2.8, 0.1, -1.2};
    double[] z = Cusum.selfStarting(x);
    for (int i = 2; i < x.length; i++) {
      double[] before = Arrays.copyOf(x, i);
      // One value against many has no variance of its own: the pooled test by hand.
      Sample s = Sample.of(before);
      double t = (x[i] - s.mean()) / (s.sd() * Math.sqrt(1 + 1.0 / i));
      double p = Distributions.tTwoSidedP(t, i - 1.0);
      assertThat(2 * Distributions.normalCdf(-Math.abs(z[i]))).isCloseTo(p, within(1e-12));
      assertThat(Math.signum(z[i])).isEqualTo(Math.signum(t));
    }
  }

  @Test
  void theScoresOfSeveralLevelsAreThoseOfOneWhereThereIsOne() {
    double[] x = {0.3, 1.1, -0.4, 0.9, 2.8, 0.1, -1.2};
    double[] ones = new double[x.length];
    Arrays.fill(ones, 1);
    double[] one = Cusum.selfStarting(x);
    double[] many = Cusum.selfStarting(x, new double[][] {ones});
    for (int i = 0; i < x.length; i++) assertThat(many[i]).isCloseTo(one[i], within(1e-10));
  }

  @Test
  void theScoresOfSeveralLevelsAreNormalAndDoNotSeeTheLevels() {
    // Brown, Durbin and Evans (1975): recursive residuals are independent and normal whatever the
    // levels. Levels of 0 and 50, 4,000 scores, 4 standard errors.
    SplittableRandom random = new SplittableRandom(6);
    double[] scores = new double[4_000];
    for (int k = 0; k < scores.length; k++) {
      int n = 5 + k % 6;
      double[] x = new double[n];
      double[][] levels = new double[2][n];
      for (int i = 0; i < n; i++) {
        int level = i % 2;
        levels[level][i] = 1;
        x[i] = 50 * level + random.nextGaussian();
      }
      scores[k] = Cusum.selfStarting(x, levels)[n - 1];
    }
    Sample s = Sample.of(scores);
    assertThat(s.mean()).isCloseTo(0, within(4 / Math.sqrt(4_000)));
    assertThat(s.variance()).isCloseTo(1, within(4 * Math.sqrt(2.0 / 4_000)));
  }

  @Test
  void theSelfStartingChartSignalsAsSeldomAsTheOneThatKnowsItsParameters() {
    // The scores being normal and independent, both have the average run length of 465 sessions
    // (Montgomery, chapter 9). 3,000 stretches of 60: shares of false signals within 4 standard
    // errors of each other. Parameters fixed from 8 sessions are the trap: 29 % within 20 (the
    // design's figure).
    SplittableRandom random = new SplittableRandom(12);
    int runs = 3_000;
    int own = 0;
    int known = 0;
    int fixed = 0;
    for (int run = 0; run < runs; run++) {
      double[] x = gaussian(random, 62);
      if (signals(Cusum.selfStarting(x))) own++;
      if (signals(gaussian(random, 60))) known++;
      double[] y = gaussian(random, 28);
      Sample first = Sample.of(Arrays.copyOf(y, 8));
      double[] z = new double[20];
      for (int i = 0; i < 20; i++) z[i] = (y[8 + i] - first.mean()) / first.sd();
      if (signals(z)) fixed++;
    }
    double share = (own + known) / 2.0 / runs;
    double error = Math.sqrt(2 * share * (1 - share) / runs);
    assertThat(own / (double) runs).isCloseTo(known / (double) runs, within(4 * error));
    assertThat(fixed / (double) runs)
        .isCloseTo(0.29, within(4 * Math.sqrt(0.29 * 0.71 / runs) + 0.005));
  }

  private static double[] gaussian(SplittableRandom random, int n) {
    return DoubleStream.generate(random::nextGaussian).limit(n).toArray();
  }

  private static boolean signals(double[] z) {
    return Cusum.of(z, 0.5, 5).signalAt().isPresent();
  }

  @Test
  void aLibraryAgreesOnThePooledTestAndOnTheSpread() {
    // commons-statistics-inference 1.2: pooled t test, and one-way analysis of variance of the
    // deviations from the medians, which is the test of Brown and Forsythe.
    SplittableRandom random = new SplittableRandom(3);
    for (int round = 0; round < 50; round++) {
      double[] a = gaussian(random, 3 + round % 10);
      double[] b = gaussian(random, 8);
      TTest pooled =
          TTest.withDefaults()
              .with(org.apache.commons.statistics.inference.DataDispersion.HOMOSCEDASTIC);
      assertThat(Contrast.pooled(Sample.of(a), Sample.of(b)).p())
          .isCloseTo(pooled.test(a, b).getPValue(), within(1e-12));
      var spread = OneWayAnova.withDefaults().test(List.of(deviations(a), deviations(b)));
      BrownForsythe ours = BrownForsythe.of(a, b);
      assertThat(ours.f()).isCloseTo(spread.getStatistic(), within(1e-9 * (1 + ours.f())));
      assertThat(ours.p()).isCloseTo(spread.getPValue(), within(1e-12));
    }
  }

  private static double[] deviations(double[] x) {
    double[] sorted = x.clone();
    Arrays.sort(sorted);
    int n = sorted.length;
    double median = n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    return Arrays.stream(x).map(v -> Math.abs(v - median)).toArray();
  }

  @Test
  void countingWithTwoListsCountsEveryWay() {
    // Against plain enumeration of all subsets, on values with many ties.
    SplittableRandom random = new SplittableRandom(9);
    for (int round = 0; round < 60; round++) {
      int na = 1 + random.nextInt(6);
      int nb = 1 + random.nextInt(7);
      double[] all = new double[na + nb];
      for (int i = 0; i < all.length; i++) all[i] = random.nextInt(5);
      double[] a = Arrays.copyOf(all, na);
      double[] b = Arrays.copyOfRange(all, na, all.length);
      assertThat(Permutation.p(a, b)).as("round " + round).isCloseTo(plain(all, na), within(1e-12));
    }
  }

  private static double plain(double[] all, int na) {
    double mean = Arrays.stream(all).average().orElseThrow();
    double seen = 0;
    for (int i = 0; i < na; i++) seen += all[i] - mean;
    int hits = 0;
    int ways = 0;
    for (int set = 0; set < 1 << all.length; set++) {
      if (Integer.bitCount(set) != na) continue;
      double sum = 0;
      for (int i = 0; i < all.length; i++) if ((set >> i & 1) == 1) sum += all[i] - mean;
      ways++;
      if (Math.abs(sum) >= Math.abs(seen) - 1e-10) hits++;
    }
    return hits / (double) ways;
  }
}
