package milewarden.benchmark;

import static org.assertj.core.api.Assertions.assertThat;

import milewarden.benchmark.FingerprintRates.Case;
import milewarden.benchmark.FingerprintRates.NoiseRates;
import milewarden.benchmark.FingerprintRates.Rates;
import org.junit.jupiter.api.Test;

/**
 * The quick form of the benchmark: 24 tracks a row, seeds from 1 on. The goal is 90 % held and 5 %
 * reported where absent. A binomial bound that a row at the goal fails once in a thousand: of 24 at
 * 0.9 fewer than 16 are held with odds of 3e-4, at 0.05 more than 5 are reported with odds of 1e-3
 * (binomial distribution, by algebra).
 */
final class FingerprintRatesTest {
  private static final int TRACKS = 24;
  private static final double HELD = 16.0 / TRACKS;
  private static final double FALSE = 5.0 / TRACKS;

  @Test
  void eachFingerprintIsRecoveredWithinItsIntervalAndNotInvented() {
    for (Case c : Case.values()) {
      Rates rates = FingerprintRates.rates(c, TRACKS, 1);
      assertThat(rates.held()).as(rates.toString()).isGreaterThanOrEqualTo(HELD);
      assertThat(rates.falseReports()).as(rates.toString()).isLessThanOrEqualTo(FALSE);
    }
  }

  @Test
  void aLagOfEightSecondsIsReported() {
    Rates rates = FingerprintRates.rates(Case.LAG_8, TRACKS, 1);
    assertThat(rates.reported()).as(rates.toString()).isGreaterThanOrEqualTo(HELD);
  }

  @Test
  void noiseIsRecoveredWithinItsIntervalsAndPatchesAreNotCalledPlain() {
    NoiseRates rates = FingerprintRates.noise(TRACKS, 1);
    assertThat(rates.sigma()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.mean()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.time()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.medianSize()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.p95Size()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.wander()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.plain()).as("%s", rates).isGreaterThanOrEqualTo(HELD);
    assertThat(rates.plainOfPatches()).as("%s", rates).isLessThanOrEqualTo(FALSE);
    assertThat(rates.plainOfJumps()).as("%s", rates).isLessThanOrEqualTo(FALSE);
  }
}
