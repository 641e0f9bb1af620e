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
  private static final int SEEDS = 6;

  // ENGINE: wrong leg or lap below 0.1 %.
  private static final double MOST_WRONG = 0.001;

  // The design's simulated matcher: travel within 0.6 % under 4 m of noise.
  private static final double TRAVEL = 0.006;

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
  void chainageErrsByWhatTheFixesErrAlongTheLineAndNotByMore(Case c) {
    MatchScore s = SCORES.get(c);
    if (s.unsureRuns() == s.runs()) return;
    assertThat(s.addedRmsM()).isLessThan(mostAdded(c));
    // Of two independent parts the squares add up; in a corner they are not independent.
    assertThat(s.chainageRmsM()).isLessThan(s.noiseRmsM() + mostAdded(c) / 3);
  }

  /**
   * What no foot of a perpendicular can avoid: a fix that lies n outside and a along a bend of the
   * radius R has its foot at R atan(a / (R + n)), which is a n / R short; of noise of sigma on each
   * axis that is sigma^2 / R on the share of the way that bends. A quarter more, for the second
   * order and for chance.
   */
  private static double mostAdded(Case c) {
    double sigma = sigma(c);
    String name = c.group() + " " + c.name();
    if (name.contains("legs")) {
      // Within sigma of two right angles 6 m apart a foot may lie on either leg: off by sigma. One
      // turn a run, four standard errors of a root of so many squares.
      double chance = 1 + 4 / Math.sqrt(2 * SEEDS);
      return chance * sigma * Math.sqrt((6 + 4 * sigma) / 806);
    }
    // Off the line, up to 40 m from it, the foot in a bend is that much further or nearer.
    if (name.contains("off a loop") || name.contains("as a lap")) return 1.5;
    if (name.contains("eight") || name.contains("crossing") || name.contains("every 5 s"))
      return 1.25 * sigma * sigma / 60;
    // Half circles of 12 m in 638 m; a fix may lie beyond their middle.
    if (name.contains("hairpin")) return 2 * sigma * sigma / 12 * Math.sqrt(38 / 638.0);
    if (name.contains("back") || name.contains("course within")) return 0.05;
    return 1.25 * sigma * sigma / 36.8 * Math.sqrt(231 / 400.0);
  }

  private static double sigma(Case c) {
    if (!c.group().equals("parallel legs")) return Math.hypot(4, 0.5);
    return c.name().contains("plane") ? 8 / Math.sqrt(2) : 8;
  }

  @ParameterizedTest
  @MethodSource("cases")
  void travelIsTheWayThatWasWalked(Case c) {
    MatchScore s = SCORES.get(c);
    if (s.unsureRuns() == s.runs()) return;
    int runs = s.runs() - s.unsureRuns();
    // Each end of a run carries the error of one fix: three times the standard error of their mean.
    double ends = 3 * sigma(c) * Math.sqrt(2) / s.runM() / Math.sqrt(runs);
    assertThat(Math.abs(s.travelError())).isLessThan(TRAVEL + ends);
  }

  @ParameterizedTest
  @MethodSource("cases")
  void travelOfOneRunScattersByTheErrorsOfItsTwoEnds(Case c) {
    MatchScore s = SCORES.get(c);
    // Where the walker turns on the way the place of the turn counts twice; standing has its drift.
    boolean turns = c.group().equals("reverse") && (c.name().matches(".*(back|twice).*"));
    if (turns || c.name().equals("standing on it") || s.unsureRuns() > 0) return;
    double ends = sigma(c) * Math.sqrt(2) / s.runM();
    // Of a root of n squares four standard errors, 1 / sqrt(2 n).
    assertThat(s.travelRms()).isLessThan(ends * (1 + 4 / Math.sqrt(2 * s.runs())));
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
