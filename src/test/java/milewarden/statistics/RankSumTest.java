package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Map;
import java.util.Objects;
import java.util.SplittableRandom;
import org.apache.commons.statistics.inference.MannWhitneyUTest;
import org.junit.jupiter.api.Test;

/**
 * The permutation test on ranks is the exact test of Mann and Whitney, whose tables are printed.
 */
final class RankSumTest {
  @Test
  void onRanksThePermutationTestIsTheExactTestOfMannAndWhitney() {
    for (Map<String, String> row : Published.rows("twosample/rank_sum_examples.csv")) {
      double[] x = values(row, "x");
      double[] y = values(row, "y");
      assertThat(Permutation.p(ranks(x, y), ranks(y, x)))
          .as(row.get("case"))
          .isCloseTo(Published.number(row, "p_two_sided_exact"), within(1e-11));
    }
  }

  @Test
  void aGeneralPurposeLibraryAgrees() {
    SplittableRandom random = new SplittableRandom(9);
    for (int i = 0; i < 50; i++) {
      double[] x = random.doubles(3 + i % 10).toArray();
      double[] y = random.doubles(8).map(v -> v + 0.3).toArray();
      double library =
          MannWhitneyUTest.withDefaults()
              .with(org.apache.commons.statistics.inference.PValueMethod.EXACT)
              .test(x, y)
              .getPValue();
      assertThat(Permutation.p(ranks(x, y), ranks(y, x))).isCloseTo(library, within(1e-11));
    }
  }

  private static double[] values(Map<String, String> row, String name) {
    String text = Objects.requireNonNull(row.get(name), name);
    return Arrays.stream(text.split(" ")).mapToDouble(Double::parseDouble).toArray();
  }

  /** Of the first values among all; none is there twice. */
  private static double[] ranks(double[] of, double[] others) {
    return Arrays.stream(of)
        .map(
            v ->
                1
                    + Arrays.stream(of).filter(o -> o < v).count()
                    + Arrays.stream(others).filter(o -> o < v).count())
        .toArray();
  }
}
