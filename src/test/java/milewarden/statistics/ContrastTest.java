package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Map;
import org.apache.commons.statistics.inference.TTest;
import org.junit.jupiter.api.Test;

final class ContrastTest {
  private static double[] of(String file, String key, String value, String column) {
    return Published.rows(file).stream()
        .filter(r -> value.equals(r.get(key)))
        .mapToDouble(r -> Published.number(r, column))
        .toArray();
  }

  @Test
  void theCarsOfTheHandbookDifferAsPublished() {
    // NIST/SEMATECH e-Handbook 1.3.5.3: T = -12.62059, df 326; unequal variances -12.94627.
    String file = "twosample/nist_two_sample_t_auto83b.csv";
    Sample us = Sample.of(of(file, "group", "us", "mpg"));
    Sample japan =
        Sample.of(
            Published.rows(file).stream()
                .filter(r -> !"us".equals(r.get("group")))
                .mapToDouble(r -> Published.number(r, "mpg"))
                .toArray());
    Contrast pooled = Contrast.pooled(us, japan);
    assertThat(us.mean()).isCloseTo(20.14458, within(5e-6));
    assertThat(japan.sd()).isCloseTo(6.10771, within(5e-6));
    assertThat(pooled.t()).isCloseTo(-12.62059, within(5e-6));
    assertThat(pooled.degreesOfFreedom()).isEqualTo(326);
    assertThat(Contrast.welch(us, japan).t()).isCloseTo(-12.94627, within(5e-6));
  }

  @Test
  void studentsSleepersDifferAsInTheHelpPage() {
    // R 4.2.2, t.test(extra ~ group, data = sleep): t -1.8608, df 17.776, p 0.07939, CI as below.
    String file = "twosample/student_sleep_1908.csv";
    Contrast c =
        Contrast.welch(
            Sample.of(Published.column(file, "extra_drug1")),
            Sample.of(Published.column(file, "extra_drug2")));
    assertThat(c.t()).isCloseTo(-1.8608, within(5e-5));
    assertThat(c.degreesOfFreedom()).isCloseTo(17.776, within(5e-4));
    assertThat(c.p()).isCloseTo(0.07939, within(5e-6));
    assertThat(c.estimate() - c.halfWidth(0.95)).isCloseTo(-3.3654832, within(5e-7));
    assertThat(c.estimate() + c.halfWidth(0.95)).isCloseTo(0.2054832, within(5e-7));
  }

  @Test
  void smallSamplesAgreeToAllDigits() {
    for (Map<String, String> row : Published.rows("twosample/two_sample_t_small.csv")) {
      Sample x = Sample.of(numbers(row.get("x")));
      Sample y = Sample.of(numbers(row.get("y")));
      boolean pooled = row.get("equal_var").equals("true");
      Contrast c = pooled ? Contrast.pooled(x, y) : Contrast.welch(x, y);
      assertThat(c.t()).isCloseTo(Published.number(row, "t"), within(1e-13));
      assertThat(c.degreesOfFreedom()).isCloseTo(Published.number(row, "df"), within(1e-12));
      assertThat(c.p()).isCloseTo(Published.number(row, "p_two_sided"), within(1e-13));
    }
  }

  private static double[] numbers(String text) {
    return Arrays.stream(text.split(" ")).mapToDouble(Double::parseDouble).toArray();
  }

  @Test
  void aGeneralPurposeLibraryAgrees() {
    // commons-statistics-inference 1.2.
    double[] a = {0.31, 0.82, -0.11, 0.55, 0.4};
    double[] b = {1.2, 0.9, 1.7, 1.1};
    var library = TTest.withDefaults();
    assertThat(Contrast.welch(Sample.of(a), Sample.of(b)).p())
        .isCloseTo(library.test(a, b).getPValue(), within(1e-13));
  }

  @Test
  void equivalenceAgreesWithTwoOneSidedTests() {
    // R package equivalence through the tests of statsmodels; 11 digits are printed.
    for (Map<String, String> row : Published.rows("twosample/tost_expected.csv")) {
      if (!row.get("design").equals("independent")) continue;
      Sample one = Sample.of(of("twosample/tost_clinic.csv", "group", "1", row.get("variable")));
      Sample two = Sample.of(of("twosample/tost_clinic.csv", "group", "2", row.get("variable")));
      boolean pooled = row.get("equal_var").equals("true");
      Contrast c = pooled ? Contrast.pooled(one, two) : Contrast.welch(one, two);
      double margin = Published.number(row, "margin");
      assertThat(c.estimate()).isCloseTo(Published.number(row, "mean_diff"), within(1e-12));
      assertThat(c.standardError()).isCloseTo(Published.number(row, "se"), within(1e-12));
      double low = Published.number(row, "ci90_low");
      assertThat(c.estimate() - c.halfWidth(0.90)).isCloseTo(low, within(1e-11));
      assertThat(c.equivalenceP(margin)).isCloseTo(Published.number(row, "p_tost"), within(1e-11));
    }
  }

  @Test
  void theProbabilityOfConformityIsThatOfTheGuide() {
    // JCGM 106:2012 (read in a secondary source): Zener diode, y = -5.47, u = 0.05, limit -5.40 V:
    // 0.92; burst pressure 509.7 against at least 490, u = 8.6 kPa: 0.99.
    double none = Double.POSITIVE_INFINITY;
    Contrast diode = new Contrast(-5.47, 0.05, none);
    assertThat(diode.massBetween(Double.NEGATIVE_INFINITY, -5.40)).isCloseTo(0.92, within(0.005));
    Contrast pressure = new Contrast(509.7, 8.6, none);
    assertThat(pressure.massBetween(490, Double.POSITIVE_INFINITY)).isCloseTo(0.99, within(0.005));
  }

  @Test
  void valuesThatDoNotVaryDecideWithoutAnInterval() {
    Contrast same = Contrast.pooled(Sample.of(1, 1, 1), Sample.of(1, 1));
    Contrast apart = Contrast.pooled(Sample.of(2, 2, 2), Sample.of(1, 1));
    assertThat(same.p()).isEqualTo(1);
    assertThat(apart.p()).isEqualTo(0);
    assertThat(apart.halfWidth(0.95)).isEqualTo(0);
  }
}
