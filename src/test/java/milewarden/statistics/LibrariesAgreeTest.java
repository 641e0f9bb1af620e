package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.apache.commons.statistics.descriptive.Mean;
import org.apache.commons.statistics.descriptive.Median;
import org.apache.commons.statistics.descriptive.Quantile;
import org.apache.commons.statistics.descriptive.Variance;
import org.apache.commons.statistics.inference.AlternativeHypothesis;
import org.apache.commons.statistics.inference.DataDispersion;
import org.apache.commons.statistics.inference.FisherExactTest;
import org.apache.commons.statistics.inference.OneWayAnova;
import org.apache.commons.statistics.inference.TTest;
import org.junit.jupiter.api.Test;

/**
 * Our statistics against commons-statistics 1.2 and commons-math3 3.6.1, on drawn values with fixed
 * seeds. The distributions themselves are commons-statistics' own. Not in these libraries, and held
 * against published values elsewhere: median polish, Benjamini and Hochberg, cumulative sums,
 * autocorrelation, BCa intervals.
 *
 * <p>Tolerances are some hundred roundings (2e-14) of the size of what is compared; a p value takes
 * over the relative error of its t, of up to 1e-13, a few times.
 */
final class LibrariesAgreeTest {
  private static final double ROUNDED = 2e-14;
  private static final double OF_P = 1e-12;
  private static final int ROUNDS = 200;

  private final SplittableRandom random = new SplittableRandom(1908);

  private double[] drawn(int n) {
    double[] x = new double[n];
    double mean = 4 * random.nextDouble() - 2;
    double sd = 0.1 + random.nextDouble();
    for (int i = 0; i < n; i++) x[i] = mean + sd * random.nextGaussian();
    return x;
  }

  @Test
  void onMeanVarianceMedianAndQuantiles() {
    Quantile linear = Quantile.withDefaults().with(Quantile.EstimationMethod.HF7);
    for (int round = 0; round < ROUNDS; round++) {
      double[] x = drawn(2 + round % 40);
      Sample s = Sample.of(x);
      assertThat(s.mean()).isCloseTo(Mean.of(x).getAsDouble(), within(4 * ROUNDED));
      double variance = Variance.of(x).getAsDouble();
      assertThat(s.variance()).isCloseTo(variance, within(10 * ROUNDED * variance));
      assertThat(Sample.median(x))
          .isCloseTo(Median.withDefaults().evaluate(x.clone()), within(4 * ROUNDED));
      double p = random.nextDouble();
      double[] sorted = x.clone();
      Arrays.sort(sorted);
      double library = linear.evaluate(x.clone(), p);
      assertThat(Sample.quantile(x, p)).isCloseTo(library, within(4 * ROUNDED));
      assertThat(Order.quantile(sorted, p)).isCloseTo(library, within(4 * ROUNDED));
      Bootstrap b = Bootstrap.percentile(x, 0.9);
      assertThat(b.low()).isCloseTo(linear.evaluate(x.clone(), 0.05), within(4 * ROUNDED));
      assertThat(b.high()).isCloseTo(linear.evaluate(x.clone(), 0.95), within(4 * ROUNDED));
    }
  }

  @Test
  void onTheDifferenceOfTwoMeansPooledAndAfterWelch() {
    for (int round = 0; round < ROUNDS; round++) {
      double[] a = drawn(2 + round % 11);
      double[] b = drawn(2 + round % 7);
      TTest welch = TTest.withDefaults();
      agree(Contrast.welch(Sample.of(a), Sample.of(b)), welch.test(a, b));
      TTest pooled = welch.with(DataDispersion.HOMOSCEDASTIC);
      agree(Contrast.pooled(Sample.of(a), Sample.of(b)), pooled.test(a, b));
      // Welch's degrees of freedom are those of a sum of two uncertainties (GUM G.2b).
      UncertaintySum sum =
          UncertaintySum.NONE
              .plus(Sample.of(a).variance() / a.length, a.length - 1.0)
              .plus(Sample.of(b).variance() / b.length, b.length - 1.0);
      double df = welch.test(a, b).getDegreesOfFreedom();
      assertThat(sum.degreesOfFreedom()).isCloseTo(df, within(20 * ROUNDED * df));
    }
  }

  private static void agree(Contrast ours, TTest.Result library) {
    double t = library.getStatistic();
    assertThat(ours.t()).isCloseTo(t, within(20 * ROUNDED * (1 + Math.abs(t))));
    double df = library.getDegreesOfFreedom();
    assertThat(ours.degreesOfFreedom()).isCloseTo(df, within(20 * ROUNDED * df));
    assertThat(ours.p()).isCloseTo(library.getPValue(), within(OF_P));
  }

  @Test
  void onEquivalenceByTwoOneSidedTests() {
    for (int round = 0; round < ROUNDS; round++) {
      double[] a = drawn(3 + round % 9);
      double[] b = drawn(8);
      double margin = 2 * random.nextDouble();
      TTest pooled = TTest.withDefaults().with(DataDispersion.HOMOSCEDASTIC);
      double above =
          pooled.with(AlternativeHypothesis.GREATER_THAN).withMu(-margin).test(a, b).getPValue();
      double below =
          pooled.with(AlternativeHypothesis.LESS_THAN).withMu(margin).test(a, b).getPValue();
      assertThat(Contrast.pooled(Sample.of(a), Sample.of(b)).equivalenceP(margin))
          .isCloseTo(Math.max(above, below), within(OF_P));
    }
  }

  @Test
  void onVarianceWithinAndBetweenGroups() {
    for (int round = 0; round < ROUNDS; round++) {
      List<double[]> groups = new ArrayList<>();
      for (int g = 0; g < 2 + round % 6; g++) groups.add(drawn(2 + random.nextInt(5)));
      OneWayAnova.Result library = OneWayAnova.withDefaults().test(groups);
      Precision ours = Precision.of(groups);
      double size = library.getMSBG() + library.getMSWG();
      assertThat(ours.withinVariance()).isCloseTo(library.getMSWG(), within(20 * ROUNDED * size));
      // The library gives the component as its share of the whole variance.
      assertThat(ours.betweenVariance() / ours.reproducibilityVariance())
          .isCloseTo(library.getVCBG(), within(20 * ROUNDED * (1 + size / library.getMSWG())));
    }
  }

  @Test
  void onDealingTwoOutcomesToEqualGroups() {
    // Of values that are 0 or 1, dealt to groups of one size, the permutation test is Fisher's: the
    // ways are symmetric, so as far apart is as unlikely.
    for (int round = 0; round < ROUNDS; round++) {
      int n = 3 + round % 8;
      double[] a = random.ints(n, 0, 2).asDoubleStream().toArray();
      double[] b = random.ints(n, 0, 2).asDoubleStream().toArray();
      int ones = (int) Arrays.stream(a).sum();
      int others = (int) Arrays.stream(b).sum();
      double library =
          FisherExactTest.withDefaults()
              .test(new int[][] {{ones, n - ones}, {others, n - others}})
              .getPValue();
      assertThat(Permutation.p(a, b)).isCloseTo(library, within(OF_P));
    }
  }

  @Test
  void onLeastSquares() {
    for (int round = 0; round < ROUNDS; round++) {
      int n = 6 + round % 25;
      int others = 1 + random.nextInt(4);
      double[][] columns = new double[others][];
      for (int c = 0; c < others; c++) columns[c] = drawn(n);
      double[] wanted = drawn(n);
      double[] y = drawn(n);
      OLSMultipleLinearRegression library = regression(y, columns, wanted);
      Contrast ours = LeastSquares.coefficient(y, columns, wanted).orElseThrow();
      double estimate = library.estimateRegressionParameters()[others];
      double error = library.estimateRegressionParametersStandardErrors()[others];
      // Drawn columns lie near one another by chance: the roundings grow with their condition,
      // which stands in the standard error.
      double tolerance = 1e-12 * (1 + Math.abs(estimate) + error);
      assertThat(ours.estimate()).isCloseTo(estimate, within(tolerance));
      assertThat(ours.standardError()).isCloseTo(error, within(tolerance));
      assertThat(ours.degreesOfFreedom()).isEqualTo(n - others - 1.0);
    }
  }

  private static OLSMultipleLinearRegression regression(
      double[] y, double[][] columns, double[] last) {
    double[][] rows = new double[y.length][columns.length + 1];
    for (int i = 0; i < y.length; i++) {
      for (int c = 0; c < columns.length; c++) rows[i][c] = columns[c][i];
      rows[i][columns.length] = last[i];
    }
    OLSMultipleLinearRegression library = new OLSMultipleLinearRegression();
    library.setNoIntercept(true);
    library.newSampleData(y, rows);
    return library;
  }

  @Test
  void onTheScoreOfANewSessionAmongSeveralLevels() {
    // The t of a column that is 1 for the newest value alone is its recursive residual's.
    for (int round = 0; round < ROUNDS; round++) {
      int n = 6 + round % 12;
      double[][] levels = new double[2][n];
      for (int i = 0; i < n; i++) levels[i % 2][i] = 1;
      double[] y = drawn(n);
      double[] newest = new double[n];
      newest[n - 1] = 1;
      OLSMultipleLinearRegression library = regression(y, levels, newest);
      double t =
          library.estimateRegressionParameters()[2]
              / library.estimateRegressionParametersStandardErrors()[2];
      double z = Cusum.selfStarting(y, levels)[n - 1];
      assertThat(2 * Distributions.normalCdf(-Math.abs(z)))
          .isCloseTo(Distributions.tTwoSidedP(t, n - 3.0), within(OF_P));
      assertThat(Math.signum(z)).isEqualTo(Math.signum(t));
    }
  }

  @Test
  void onRowsAndColumnsByLeavingTheRowsOut() {
    for (int round = 0; round < ROUNDS; round++) {
      int rows = 2 + round % 5;
      int columns = 2 + random.nextInt(6);
      double[][] cells = new double[rows][];
      for (int i = 0; i < rows; i++) cells[i] = drawn(columns);
      double with = rest(cells, true);
      double without = rest(cells, false);
      double msRest = with / ((rows - 1.0) * (columns - 1.0));
      double msRow = (without - with) / (rows - 1.0);
      TwoWay ours = TwoWay.of(cells);
      double tolerance = 1e-12 * (1 + msRow);
      assertThat(ours.restVariance()).isCloseTo(msRest, within(tolerance));
      assertThat(ours.rowComponent()).isCloseTo((msRow - msRest) / columns, within(tolerance));
    }
  }

  /** The sum of squares that the columns leave, and the rows where they count. */
  private static double rest(double[][] cells, boolean withRows) {
    int rows = cells.length;
    int columns = cells[0].length;
    double[] y = new double[rows * columns];
    double[][] x = new double[rows * columns][columns + (withRows ? rows - 1 : 0)];
    for (int i = 0; i < rows; i++)
      for (int j = 0; j < columns; j++) {
        y[i * columns + j] = cells[i][j];
        x[i * columns + j][j] = 1;
        if (withRows && i > 0) x[i * columns + j][columns + i - 1] = 1;
      }
    OLSMultipleLinearRegression library = new OLSMultipleLinearRegression();
    library.setNoIntercept(true);
    library.newSampleData(y, x);
    return library.calculateResidualSumOfSquares();
  }

  @Test
  void onTheNoncentralTByIntegratingItsDefinition() {
    // P(Z + delta <= t sqrt(chi2 / df)), over the chi-squared distribution.
    var integrator = new IterativeLegendreGaussIntegrator(20, 1e-12, 1e-13, 2, 30);
    for (int round = 0; round < 60; round++) {
      double df = 2 + random.nextInt(40);
      double delta = 8 * random.nextDouble() - 2;
      double t = 8 * random.nextDouble() - 2;
      var chi2 = new ChiSquaredDistribution(df);
      double library =
          integrator.integrate(
              5_000_000,
              root ->
                  2
                      * root
                      * chi2.density(root * root)
                      * Distributions.normalCdf(t * root / Math.sqrt(df) - delta),
              1e-9,
              Math.sqrt(df) + 12);
      assertThat(NoncentralT.cdf(t, df, delta)).isCloseTo(library, within(1e-11));
    }
  }
}
