package milewarden.verdict.due;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import milewarden.benchmark.FlipChanceRates;
import org.junit.jupiter.api.Test;

/** The quick form; the full one is the command of {@link FlipChanceRates}. */
final class FlipChanceTest {
  /**
   * A stated chance is right when, of all times that it is stated, the verdict flips in that share.
   * True changes are drawn evenly from a range far wider than the data can tell, which is the flat
   * prior that the chance assumes; then the judge itself takes the next look.
   */
  @Test
  void ofAllTimesThatAChanceIsStatedTheVerdictFlipsInThatShare() {
    FlipChanceRates rates = FlipChanceRates.of(1_500, 2026);
    // Monte Carlo: a share of some 0.5 in 500 has a standard error of 0.022; three of them.
    assertThat(rates.flipped()).isCloseTo(rates.stated(), within(0.066));
    for (FlipChanceRates.Bin bin : rates.bins())
      if (bin.n() >= 100)
        assertThat(bin.flipped())
            .as("stated " + bin.stated() + ", " + bin.n() + " times")
            .isCloseTo(
                bin.stated(),
                within(0.04 + 3 * Math.sqrt(bin.stated() * (1 - bin.stated()) / bin.n())));
  }
}
