package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;

final class PowerTest {
  @Test
  void theNoncentralTAgreesWithPublishedSpots() {
    // Spot values of Boost.Math's tests; recomputed by SciPy 1.17 to 1e-11.
    for (Map<String, String> row : Published.rows("power/noncentral_t_cdf.csv")) {
      double cdf =
          NoncentralT.cdf(
              Published.number(row, "t"),
              Published.number(row, "df"),
              Published.number(row, "ncp"));
      assertThat(cdf)
          .as(row.toString())
          .isCloseTo(Published.number(row, "cdf_published"), within(1e-10));
    }
  }

  @Test
  void withoutNoncentralityItIsStudents() {
    for (double t : new double[] {-3, -0.5, 0, 0.5, 2, 30})
      assertThat(NoncentralT.cdf(t, 7, 0)).isCloseTo(Distributions.tCdf(t, 7), within(1e-13));
  }

  @Test
  void powerAgreesWithPublishedTables() {
    for (Map<String, String> row : Published.rows("power/power_t_tests.csv")) {
      if (!row.get("type").equals("two.sample") || !row.get("alternative").equals("two.sided"))
        continue;
      double n = Published.number(row, "n_per_group");
      double d = Published.number(row, "d");
      double alpha = Published.number(row, "alpha");
      double power = Power.ofContrast(d * Math.sqrt(n / 2), 2 * n - 2, alpha);
      // R's power.t.test drops the far tail: below 1e-6 in these rows.
      assertThat(power).as(row.toString()).isCloseTo(Published.number(row, "power"), within(2e-6));
    }
  }

  @Test
  void sixtyFourEachFindHalfAStandardDeviation() {
    // Cohen (1988), table 2.4.1: d = 0.5, two-sided 0.05, power 0.80: n = 64; d = 0.8: 26.
    assertThat(Power.sessionsEach(0.5, 0.05, 0.80)).hasValue(64);
    assertThat(Power.sessionsEach(0.8, 0.05, 0.80)).hasValue(26);
  }

  @Test
  void theDetectableDifferenceIsTheInverseOfPower() {
    double delta = Power.detectable(18, 0.045, 0.80);
    assertThat(Power.ofContrast(delta, 18, 0.045)).isCloseTo(0.80, within(1e-9));
  }

  @Test
  void aSmallBaselineCanNeverFindASmallShift() {
    // With 3 sessions before, even endless ones after leave a standard error of 1 / sqrt 3.
    assertThat(Power.sessionsAgainst(0.5, 3, 0.05, 0.80)).isEmpty();
  }
}
