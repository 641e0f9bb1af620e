package milewarden.verdict.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import milewarden.verdict.CoverageRates;
import milewarden.verdict.CoverageRates.Coverage;
import milewarden.verdict.CoverageRates.Lab;
import org.junit.jupiter.api.Test;

/**
 * Intervals hold the truth in 95 % (+-1.5): the quick form of what {@code
 * benchmark.CoverageBenchmark} measures. Bounds are 1.5 points and 4 standard errors of a share.
 */
final class CoverageTest {
  private static void covers(Lab lab, long seed) {
    int n = 2_000;
    Coverage c = CoverageRates.coverage(lab, seed, n);
    double bound = 0.015 + 4 * c.mean().error(0.95);
    assertThat(c.mean().share()).as("mean of " + lab).isCloseTo(0.95, within(bound));
    assertThat(c.next().share()).as("next run of " + lab).isCloseTo(0.95, within(bound));
  }

  @Test
  void ofOnePassASession() {
    covers(new Lab(6, 1, 1, 1, 0, 0, 0), 1);
  }

  @Test
  void ofTwoPassesASessionWhoseSpreadIsMostlyTheSessions() {
    covers(new Lab(6, 1, 2, 1, 0.5, 0, 0), 2);
  }

  @Test
  void ofTwoPassesASessionWhoseSpreadIsMostlyThePasses() {
    covers(new Lab(8, 1, 2, 0.3, 1, 0, 0), 3);
  }

  @Test
  void withAnUncertainReference() {
    covers(new Lab(8, 1, 2, 0.5, 0.5, 0, 0.3), 4);
  }
}
