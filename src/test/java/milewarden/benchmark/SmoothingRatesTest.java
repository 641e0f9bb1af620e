package milewarden.benchmark;

import static org.assertj.core.api.Assertions.assertThat;

import milewarden.benchmark.SmoothingRates.Case;
import milewarden.benchmark.SmoothingRates.Rates;
import org.junit.jupiter.api.Test;

/** The quick form of the benchmark, on other seeds. */
final class SmoothingRatesTest {
  private static final int CAMPAIGNS = 1;

  @Test
  void aFilterThatCameWithAReleaseIsFoundThoughTheDistanceIsAsBefore() {
    Rates rates = SmoothingRates.rates(Case.FROM_NONE_TO_4, CAMPAIGNS, 1);
    assertThat(rates.called().get(2)).as("%s", rates).isEqualTo(1);
    assertThat(rates.due()).as("%s", rates).isEqualTo(1);
    assertThat(rates.asBefore()).as("%s", rates).isEqualTo(1);
  }

  // At 1 % of campaigns this one is called for one choice of seeds in a hundred; the seed is fixed.
  @Test
  void whereNothingChangedNothingIsCalled() {
    Rates rates = SmoothingRates.rates(Case.SAME_2, CAMPAIGNS, 1);
    assertThat(rates.called().get(2)).as("%s", rates).isZero();
    assertThat(rates.due()).as("%s", rates).isZero();
  }
}
