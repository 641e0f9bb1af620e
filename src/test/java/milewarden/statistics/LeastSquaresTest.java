package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

/**
 * Against the certified values of NIST's reference data set for linear regression that is hardest
 * on its arithmetic (StRD, Longley; data and values from memory: that they agree to nine digits
 * says that they are right).
 */
final class LeastSquaresTest {
  private static final double[] EMPLOYED = {
    60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655,
    69564, 69331, 70551
  };
  private static final double[][] COLUMNS = {
    {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
    {
      83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2,
      115.7, 116.9
    },
    {
      234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769,
      444546, 482704, 502601, 518173, 554894
    },
    {
      2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007
    },
    {
      1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827
    },
    {
      107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445,
      121950, 123366, 125368, 127852, 130081
    },
    {1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962}
  };
  private static final double[] COEFFICIENTS = {
    -3482258.63459582,
    15.0618722713733,
    -0.358191792925910e-01,
    -2.02022980381683,
    -1.03322686717359,
    -0.511041056535807e-01,
    1829.15146461355
  };
  private static final double[] STANDARD_ERRORS = {
    890420.383607373,
    84.9149257747669,
    0.334910077722432e-01,
    0.488399681651699,
    0.214274163161675,
    0.226073200069370,
    455.478499142212
  };

  @Test
  void theCoefficientsOfLongleyAreTheCertifiedOnes() {
    for (int k = 0; k < COLUMNS.length; k++) {
      Contrast c = LeastSquares.coefficient(EMPLOYED, without(k), COLUMNS[k]).orElseThrow();
      assertThat(c.degreesOfFreedom()).isEqualTo(9);
      assertThat(c.estimate())
          .as("B" + k)
          .isCloseTo(COEFFICIENTS[k], within(1e-9 * Math.abs(COEFFICIENTS[k])));
      assertThat(c.standardError())
          .as("standard error of B" + k)
          .isCloseTo(STANDARD_ERRORS[k], within(1e-9 * STANDARD_ERRORS[k]));
    }
  }

  @Test
  void theResidualsOfLongleyHaveTheCertifiedStandardDeviation() {
    double squares = 0;
    for (double r : LeastSquares.residuals(EMPLOYED, COLUMNS)) squares += r * r;
    assertThat(Math.sqrt(squares / 9)).isCloseTo(304.854073561965, within(1e-7));
    assertThat(LeastSquares.rank(COLUMNS, EMPLOYED.length)).isEqualTo(7);
  }

  private static double[][] without(int k) {
    double[][] others = new double[COLUMNS.length - 1][];
    for (int i = 0; i < others.length; i++)
      others[i] = Arrays.copyOf(COLUMNS[i < k ? i : i + 1], EMPLOYED.length);
    return others;
  }
}
