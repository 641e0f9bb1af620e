package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;

final class UncertaintySumTest {
  @Test
  void theExampleOfTheGumHasNineteenDegreesOfFreedom() {
    // JCGM 100:2008, G.4.1: 0.25, 0.57, 0.82 % with 9, 4, 14: u_c 1.03 %, nu 19.0, U95 2.2 %.
    UncertaintySum sum =
        UncertaintySum.NONE.plus(0.25 * 0.25, 9).plus(0.57 * 0.57, 4).plus(0.82 * 0.82, 14);
    assertThat(sum.standardUncertainty()).isCloseTo(1.03, within(0.005));
    assertThat(sum.degreesOfFreedom()).isCloseTo(19.0, within(0.05));
    assertThat(sum.expanded(0.95)).isCloseTo(2.2, within(0.05));
  }

  @Test
  void theEndGaugeOfTheGumComesOut() {
    // JCGM 100:2008, H.1: u_c 32 nm, nu 16.7, cut to 16 as its G.4.1 allows; U99 93 nm.
    UncertaintySum sum = UncertaintySum.NONE;
    for (Map<String, String> row : Published.rows("gum/gum_h1_end_gauge_budget.csv")) {
      double u = Published.number(row, "u_i_nm_published");
      sum = sum.plus(u * u, Published.number(row, "nu_i"));
    }
    assertThat(sum.standardUncertainty()).isCloseTo(32, within(0.5));
    assertThat(sum.degreesOfFreedom()).isCloseTo(16.7, within(0.1));
    double factor = Distributions.tFactor(0.99, Math.floor(sum.degreesOfFreedom()));
    assertThat(factor).isCloseTo(2.92, within(0.005));
    // The published 93 is 2.92 times a rounded 32; unrounded it is 92.5 at most.
    assertThat(factor * sum.standardUncertainty()).isCloseTo(93, within(1.0));
  }

  @Test
  void aTermThatIsKnownExactlyAddsNoDegreesOfFreedom() {
    UncertaintySum sum = UncertaintySum.NONE.plus(1, Double.POSITIVE_INFINITY);
    assertThat(sum.degreesOfFreedom()).isInfinite();
    // GUM table G.2, last line: 1.960.
    assertThat(sum.expanded(0.95)).isCloseTo(1.960, within(0.0005));
  }

  @Test
  void studentsFactorsAreThoseOfTheTable() {
    // JCGM 100:2008, table G.2, 95 %.
    double[][] table = {
      {1, 12.71}, {2, 4.30}, {3, 3.18}, {4, 2.78}, {5, 2.57}, {10, 2.23}, {20, 2.09}
    };
    for (double[] row : table)
      assertThat(Distributions.tFactor(0.95, row[0])).isCloseTo(row[1], within(0.0051));
  }
}
