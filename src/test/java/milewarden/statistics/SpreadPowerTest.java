package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Against numpy 2.4.6 and scipy 1.17.1, 100,000 replications with default_rng(9): |x - median| of
 * both groups into a one-way F test, held against a third of each look's alpha.
 */
final class SpreadPowerTest {
  @ParameterizedTest
  @CsvSource({
    "3, 8, 3, 0.0016667, 0.000",
    "6, 8, 2, 0.0046667, 0.037",
    "6, 8, 3, 0.0046667, 0.101",
    "12, 8, 1, 0.015, 0.009",
    "12, 8, 2, 0.015, 0.087",
    "12, 8, 3, 0.015, 0.249"
  })
  void findsASpreadAsOftenAsAnotherProgramDoes(
      int candidates, int baselines, double ratio, double alpha, double share) {
    // Four standard errors of 4,000 draws, and the rounding of the printed share.
    double error = 4 * Math.sqrt(share * (1 - share) / 4_000) + 0.0005;
    assertThat(SpreadPower.of(candidates, baselines, ratio, alpha)).isCloseTo(share, within(error));
  }
}
