package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import milewarden.matching.MatchingCases.Case;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Matching against the truth that the simulator carries along, case by case, on seeds that nothing
 * was tuned on; {@code benchmark.MatchingProof} does the same with many more.
 */
final class MatchingCasesTest {
  private static final int SEEDS = 8;

  // ENGINE: wrong leg or lap below 0.1 %.
  private static final double MOST_WRONG = 0.001;

  // DOMAIN, section 4: travel within 0.6 %, 3 to 4 m RMS under 4 m of noise.
  private static final double TRAVEL = 0.006;

  // A Gauss-Markov error of 20 s has as many independent values as spans of twice that.
  private static final double INDEPENDENT_S = 40;

  private static final Map<Case, MatchScore> SCORES = new LinkedHashMap<>();

  @BeforeAll
  static void match() {
    for (Case c : MatchingCases.all()) {
      MatchScore score = new MatchScore();
      for (long seed : MatchingCases.freshSeeds(SEEDS)) score.take(c.maker().make(seed), seed);
      SCORES.put(c, score);
    }
  }

  static List<Case> cases() {
    return List.copyOf(SCORES.keySet());
  }

  @ParameterizedTest
  @MethodSource("cases")
  void everyFixIsOnItsLegAndLap(Case c) {
    MatchScore s = SCORES.get(c);
    assertThat(s.misplacedRuns()).as(s.worst()).isZero();
    // Of the runs that were said to fit both ways none counts as right or wrong.
    if (s.unsureRuns() == s.runs()) return;
    assertThat(s.wrongShare()).as(s.worst()).isLessThanOrEqualTo(MOST_WRONG);
  }

  @ParameterizedTest
  @MethodSource("cases")
  void chainageIsAsGoodAsTheFixes(Case c) {
    MatchScore s = SCORES.get(c);
    if (s.unsureRuns() == s.runs()) return;
    double sigma = c.group().equals("parallel legs") ? 8 : 4.03;
    double independent = s.seconds() / INDEPENDENT_S;
    // The standard error of a standard deviation, sigma / sqrt(2 n), four times.
    assertThat(s.chainageRmsM()).isLessThan(sigma * (1 + 4 / Math.sqrt(2 * independent)));
  }

  @ParameterizedTest
  @MethodSource("cases")
  void travelIsTheWayThatWasWalked(Case c) {
    MatchScore s = SCORES.get(c);
    if (s.unsureRuns() == s.runs()) return;
    double sigma = c.group().equals("parallel legs") ? 8 : 4.03;
    int runs = s.runs() - s.unsureRuns();
    // Each end of a run carries the error of one fix: three times the standard error of their mean.
    double ends = 3 * sigma * Math.sqrt(2) / (s.walkedM() / runs) / Math.sqrt(runs);
    assertThat(Math.abs(s.travelError())).isLessThan(TRAVEL + ends);
  }

  @Test
  void overAllOfThemFewerThanOneFixInAThousandIsOnTheWrongLegOrLap() {
    long wrong = SCORES.values().stream().mapToLong(MatchScore::wrong).sum();
    long fixes = SCORES.values().stream().mapToLong(MatchScore::fixes).sum();
    assertThat(wrong / (double) fixes).isLessThan(MOST_WRONG);
  }

  @Test
  void onlyLegsSideBySideUnderLastingNoiseAreSaidToFitBothWays() {
    SCORES.forEach(
        (c, s) -> {
          boolean sideBySide = c.name().contains("lasting") || c.name().contains("two-legs");
          if (!sideBySide || c.name().contains("tag"))
            assertThat(s.unsureRuns()).as("%s", c).isZero();
        });
  }
}
