package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;

final class SampleTest {
  @Test
  void meanAndSdAgreeWithTheCertifiedValuesOfNist() {
    // NIST StRD, univariate; certified to 15 digits.
    for (Map<String, String> row : Published.rows("strd/strd_certified.csv")) {
      String name = row.get("dataset");
      Sample s = Sample.of(data(name));
      double mean = Published.number(row, "mean");
      double sd = Published.number(row, "sd_n_minus_1");
      assertThat(s.n()).as(name).isEqualTo((int) Published.number(row, "n"));
      // 14 digits: a few roundings of doubles.
      assertThat(s.mean()).as(name).isCloseTo(mean, within(Math.abs(mean) * 1e-14));
      // The data themselves, 1e7 + 0.1, are doubles known to 2e-9: no sd can be nearer than 2e-8.
      double relative = name.equals("numacc4") ? 2e-8 : name.equals("numacc3") ? 2e-9 : 1e-12;
      assertThat(s.sd()).as(name).isCloseTo(sd, within(sd * relative));
    }
  }

  static double[] data(String name) {
    double base =
        switch (name) {
          case "numacc2" -> 1;
          case "numacc3" -> 1e6;
          case "numacc4" -> 1e7;
          default -> Double.NaN;
        };
    if (Double.isNaN(base)) return Published.column("strd/strd_" + name + ".csv", "y");
    double[] x = new double[1001];
    x[0] = base + 0.2;
    for (int i = 1; i < 1001; i++) x[i] = base + (i % 2 == 1 ? 0.1 : 0.3);
    return x;
  }

  @Test
  void theTemperaturesOfTheGumHaveTheirPublishedMoments() {
    // JCGM 100:2008, 4.4.3: 100.145, 1.489, 0.333.
    Sample s = Sample.of(Published.column("gum/gum_4_4_3_temperatures.csv", "t_C"));
    assertThat(s.mean()).isCloseTo(100.145, within(0.0005));
    assertThat(s.sd()).isCloseTo(1.489, within(0.0005));
    assertThat(s.sd() / Math.sqrt(s.n())).isCloseTo(0.333, within(0.0005));
  }

  @Test
  void percentilesAreOfTypeSeven() {
    // NIST/SEMATECH e-Handbook 7.2.6.2, R7; four printed digits.
    double[] wafers = Published.column("percentile/nist_percentile_7_2_6_2.csv", "resistivity");
    assertThat(Sample.quantile(wafers, 0.9)).isCloseTo(95.1957, within(0.00005));
    // R 4.2.2: quantile(1:10, c(.1, .25, .5, .9), type = 7).
    double[] ten = {10, 1, 9, 2, 8, 3, 7, 4, 6, 5};
    assertThat(Sample.quantile(ten, 0.1)).isCloseTo(1.9, within(1e-12));
    assertThat(Sample.quantile(ten, 0.25)).isCloseTo(3.25, within(1e-12));
    assertThat(Sample.median(ten)).isCloseTo(5.5, within(1e-12));
    assertThat(Sample.quantile(ten, 0.9)).isCloseTo(9.1, within(1e-12));
    assertThat(Sample.quantile(ten, 1)).isEqualTo(10);
  }

  @Test
  void theLimitsOfAgreementOfBlandAndAltmanComeOut() {
    // Bland and Altman (1986): first readings, mean -2.1, SD 38.8; +-1.96 SD -78.10 and 73.86.
    double[] d =
        Published.rows("gum/bland_altman_1986_pefr.csv").stream()
            .mapToDouble(r -> Published.number(r, "large_1") - Published.number(r, "mini_1"))
            .toArray();
    Sample s = Sample.of(d);
    assertThat(s.mean()).isCloseTo(-2.1, within(0.05));
    assertThat(s.sd()).isCloseTo(38.8, within(0.05));
    assertThat(s.mean() - 1.96 * s.sd()).isCloseTo(-78.10, within(0.005));
    assertThat(s.mean() + 1.96 * s.sd()).isCloseTo(73.86, within(0.005));
  }
}
