package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;

final class AutocorrelationTest {
  @Test
  void lagOneAgreesWithTheCertifiedValuesOfNist() {
    // NIST StRD, univariate; certified to 15 digits.
    int sets = 0;
    for (Map<String, String> row : Published.rows("strd/strd_certified.csv")) {
      String name = row.get("dataset");
      double certified = Published.number(row, "lag1_autocorrelation");
      // The data themselves, 1e7 + 0.1, are doubles known to 2e-9.
      double relative = name.equals("numacc4") ? 1e-7 : name.equals("numacc3") ? 1e-8 : 1e-12;
      assertThat(new Autocorrelation(SampleTest.data(name)).at(1))
          .as(name)
          .isCloseTo(certified, within(Math.abs(certified) * relative));
      sets++;
    }
    assertThat(sets).isEqualTo(8);
  }

  @Test
  void theFirstFiftyLagsOfTheBeamAreThePrintedOnes() {
    // NIST/SEMATECH e-Handbook, beam deflections: two printed decimals.
    double[] beam = Published.column("strd/strd_lew.csv", "y");
    int lags = 0;
    for (Map<String, String> row : Published.rows("strd/nist_lew_autocorrelation.csv")) {
      int lag = (int) Published.number(row, "lag");
      assertThat(new Autocorrelation(beam).at(lag))
          .as("lag %d", lag)
          .isCloseTo(Published.number(row, "r_printed"), within(0.005 + 1e-9));
      lags++;
    }
    assertThat(lags).isEqualTo(50);
  }

  @Test
  void valuesThatDoNotVaryHaveNone() {
    assertThat(new Autocorrelation(new double[] {3, 3, 3, 3}).at(1)).isNaN();
    assertThatThrownBy(() -> new Autocorrelation(new double[] {1, 2}).at(2))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
