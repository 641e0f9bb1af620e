package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

final class ChartsAndTestsTest {
  @Test
  void theCumulativeSumOfTheHandbookSignalsAtGroupFourteen() {
    // NIST/SEMATECH e-Handbook 6.3.2.3: target 325, k 0.3175, h 4.1959, as printed.
    List<Map<String, String>> rows = Published.rows("charts/nist_cusum_6_3_2_3.csv");
    double[] z = rows.stream().mapToDouble(r -> Published.number(r, "x") - 325).toArray();
    Cusum c = Cusum.of(z, 0.3175, 4.1959);
    for (int i = 0; i < z.length; i++) {
      // Printed to two digits, half-way cases rounded both ways.
      double printed = Published.number(rows.get(i), "S_hi_printed");
      assertThat(c.high().get(i)).isCloseTo(printed, within(0.005 + 1e-9));
    }
    assertThat(c.signalAt()).hasValue(13);
  }

  @Test
  void theSelfStartingScoresAreNormalFromTheThirdOn() {
    // Hawkins (1987): exactly normal and independent; mean and variance of 4,000 scores, 4 SE.
    SplittableRandom random = new SplittableRandom(5);
    double[] scores = new double[4_000];
    for (int i = 0; i < scores.length; i++) {
      double[] x = new double[3 + i % 8];
      for (int k = 0; k < x.length; k++) x[k] = 7 + 0.3 * random.nextGaussian();
      scores[i] = Cusum.selfStarting(x)[x.length - 1];
    }
    Sample s = Sample.of(scores);
    assertThat(s.mean()).isCloseTo(0, within(4 / Math.sqrt(4_000)));
    assertThat(s.variance()).isCloseTo(1, within(4 * Math.sqrt(2.0 / 4_000)));
  }

  @Test
  void thePermutationTestCountsEveryWay() {
    // By hand: of the 20 ways to deal 1..6 into threes only {1,2,3} and {4,5,6} are as far apart.
    assertThat(Permutation.p(new double[] {1, 2, 3}, new double[] {4, 5, 6}))
        .isCloseTo(2.0 / 20, within(1e-12));
    // Against 8, three can reach 2 / C(11, 3) at best: above the first look's alpha of 0.005.
    double best = Permutation.p(new double[] {20, 21, 22}, new double[] {1, 2, 3, 4, 5, 6, 7, 8});
    assertThat(best).isCloseTo(1.0 / 165, within(1e-12));
    assertThat(best).isGreaterThan(0.005);
  }

  @Test
  void manyDrawsComeNearTheTest() {
    // 20 against 20 can't be counted; for normal values permutation and t agree (Fisher 1935):
    // within 4 SE of 19,999 draws at p = 0.05 and the difference of the two tests, some 0.002.
    SplittableRandom random = new SplittableRandom(2);
    double[] a = random.doubles(20).toArray();
    double[] b = random.doubles(20).map(x -> x + 0.17).toArray();
    double t = Contrast.pooled(Sample.of(a), Sample.of(b)).p();
    assertThat(Permutation.p(a, b)).isCloseTo(t, within(0.01));
    assertThat(Permutation.p(a, b)).isEqualTo(Permutation.p(a, b));
  }

  @Test
  void brownAndForsytheIsTheAnalysisOfVarianceOfDeviationsFromTheMedian() {
    double[] a = {1, 2, 4, 7, 11};
    double[] b = {3, 3.5, 4, 4.2};
    // The squared pooled t on |x - median| is F(1, n - 2): an identity of two groups.
    double[] za = {3, 2, 0, 3, 7};
    double[] zb = {0.75, 0.25, 0.25, 0.45};
    double t = Contrast.pooled(Sample.of(za), Sample.of(zb)).t();
    BrownForsythe test = BrownForsythe.of(a, b);
    assertThat(test.f()).isCloseTo(t * t, within(1e-12));
    assertThat(test.p())
        .isCloseTo(Contrast.pooled(Sample.of(za), Sample.of(zb)).p(), within(1e-12));
  }

  @Test
  void benjaminiAndHochbergRejectTheFourOfTheirExample() {
    // Benjamini and Hochberg (1995), 3.2: 15 p values, q = 0.05: the first four (from memory).
    double[] p = {
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262,
      0.5719, 0.6528, 0.7590, 1.0
    };
    boolean[] stands = FalseDiscovery.benjaminiHochberg(p, 0.05);
    for (int i = 0; i < p.length; i++) assertThat(stands[i]).as("p " + p[i]).isEqualTo(i < 4);
  }

  @Test
  void theVarianceBetweenRowsIsWhatTheRestDoesNotExplain() {
    // Two rows that differ by 2 and columns that differ alike leave no rest: variance 2^2 / 2.
    TwoWay exact = TwoWay.of(new double[][] {{1, 3, 8}, {3, 5, 10}});
    assertThat(exact.restVariance()).isCloseTo(0, within(1e-12));
    assertThat(exact.rowVariance()).isCloseTo(2, within(1e-12));
    assertThat(exact.rowDegreesOfFreedom()).isEqualTo(1);
  }

  @Test
  void leastSquaresWithOneBlockIsThePooledTest() {
    double[] a = {0.2, 0.5, 0.1};
    double[] b = {1.1, 0.7, 0.9, 1.4};
    double[] y = {0.2, 0.5, 0.1, 1.1, 0.7, 0.9, 1.4};
    double[] ones = {1, 1, 1, 1, 1, 1, 1};
    double[] firmware = {1, 1, 1, 0, 0, 0, 0};
    Contrast pooled = Contrast.pooled(Sample.of(a), Sample.of(b));
    // The second column says the same as the first and is left out.
    Contrast fit = LeastSquares.coefficient(y, new double[][] {ones, ones}, firmware).orElseThrow();
    assertThat(fit.estimate()).isCloseTo(pooled.estimate(), within(1e-12));
    assertThat(fit.standardError()).isCloseTo(pooled.standardError(), within(1e-12));
    assertThat(fit.degreesOfFreedom()).isEqualTo(pooled.degreesOfFreedom());
    assertThat(LeastSquares.coefficient(y, new double[][] {firmware, ones}, firmware)).isEmpty();
  }
}
