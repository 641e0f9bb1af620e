package milewarden.verdict.comparing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import milewarden.course.Direction;
import milewarden.statistics.Contrast;
import milewarden.statistics.Power;
import milewarden.statistics.Sample;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Caution;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Look;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;

final class ComparisonTest {
  private static final double[] BEFORE = {0.31, 0.12, 0.27, 0.44, 0.05, 0.38, 0.21, 0.19};

  private static Campaign two() {
    return new Campaign().release("1.0").release("1.1").sessions("1.0", 0, BEFORE);
  }

  private static double[] shifted(double shift, int n) {
    return IntStream.range(0, n).mapToDouble(i -> BEFORE[i % 8] + shift).toArray();
  }

  private static Comparison anchor(Campaign c) {
    return Campaign.comparison(c.judge(), "1.1", Against.ANCHOR);
  }

  @Test
  void beforeTheFirstLookNothingIsSettled() {
    Comparison c = anchor(two().sessions("1.1", 40, 3.0, 3.1));
    assertThat(c.outcome()).isEqualTo(Outcome.NOT_SETTLED);
    assertThat(c.because()).isEqualTo(Because.TOO_FEW_SESSIONS);
    assertThat(c.nextLookAt()).hasValue(3);
    assertThat(c.sessionsNeeded().orElseThrow()).isGreaterThanOrEqualTo(1);
    assertThat(c.looks()).isEmpty();
  }

  @Test
  void aLargeShiftIsWorseAtTheFirstLook() {
    Comparison c = anchor(two().sessions("1.1", 40, shifted(1.5, 3)));
    assertThat(c.outcome()).isEqualTo(Outcome.WORSE);
    assertThat(c.because()).isEqualTo(Because.MEAN_ERROR_GREW);
    assertThat(c.looks()).hasSize(1);
    Look look = c.looks().get(0);
    assertThat(look.alpha()).isEqualTo(0.005);
    assertThat(look.estimate().permutationP()).isEmpty();
    // The difference is the pooled t test of one figure per session.
    Contrast t = Contrast.pooled(Sample.of(shifted(1.5, 3)), Sample.of(BEFORE));
    assertThat(look.estimate().percent()).isCloseTo(t.estimate(), within(1e-12));
    assertThat(look.estimate().p()).isCloseTo(t.p(), within(1e-12));
    assertThat(look.estimate().degreesOfFreedom()).isEqualTo(9);
    assertThat(look.estimate().interval().high())
        .isCloseTo(t.estimate() + t.halfWidth(0.95), within(1e-12));
  }

  @Test
  void theMirrorIsBetter() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    c.sessions("1.0", 0, shifted(1.5, 8)).sessions("1.1", 40, shifted(0, 6));
    assertThat(anchor(c).outcome()).isEqualTo(Outcome.BETTER);
  }

  @Test
  void aTurnedSignIsChanged() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    c.sessions("1.0", 0, shifted(0.8, 8)).sessions("1.1", 40, shifted(-1.3, 6));
    Comparison found = anchor(c);
    assertThat(found.outcome()).isEqualTo(Outcome.CHANGED);
    assertThat(found.because()).isEqualTo(Because.DIFFERENCE_IS_REAL);
  }

  @Test
  void sameAgainIsEquivalentAndSaysSo() {
    Comparison c = anchor(two().sessions("1.1", 40, shifted(0.02, 12)));
    assertThat(c.outcome()).isEqualTo(Outcome.EQUIVALENT);
    assertThat(c.because()).isEqualTo(Because.WITHIN_MATERIAL_CHANGE);
    assertThat(c.nextLookAt()).isEmpty();
    assertThat(c.cautions()).contains(Caution.CLOSED);
    assertThat(c.looks()).hasSize(3);
    assertThat(c.looks().get(2).estimate().permutationP()).isPresent();
  }

  @Test
  void aSmallRealShiftIsEquivalentButReal() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    double[] tight = {0.10, 0.11, 0.12, 0.10, 0.11, 0.12, 0.10, 0.11};
    c.sessions("1.0", 0, tight);
    for (int i = 0; i < 6; i++) c.sessions("1.1", 40 + i, tight[i] + 0.2);
    assertThat(anchor(c).because()).isEqualTo(Because.SMALL_BUT_REAL);
  }

  @Test
  void noiseSettlesNothingAndSaysWhatItWouldTake() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    double[] wide = {-1.2, 0.9, 0.1, 1.4, -0.7, -0.2, 0.8, -1.1};
    c.sessions("1.0", 0, wide).sessions("1.1", 40, 0.9, -0.8, 0.4);
    Comparison found = anchor(c);
    assertThat(found.outcome()).isEqualTo(Outcome.NOT_SETTLED);
    assertThat(found.because()).isEqualTo(Because.INTERVAL_TOO_WIDE);
    // The change that is found with power 0.80 by the t test that the look made.
    double found80 = found.minimumDetectableChangePercent().orElseThrow();
    double se = found.estimate().orElseThrow().standardError();
    assertThat(Power.ofContrast(found80 / se, 9, 0.005)).isCloseTo(0.80, within(1e-6));
  }

  @Test
  void moreNoiseAloneIsFoundBySpread() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    c.sessions("1.0", 0, 0.1, 0.12, 0.09, 0.11, 0.1, 0.1, 0.12, 0.09);
    c.sessions("1.1", 40, 1.2, -1.1, 0.9, -0.8, 1.3, -1.2, 1.0, -1.0, 1.1, -0.9, 0.8, -0.7);
    Comparison found = anchor(c);
    assertThat(found.outcome()).isEqualTo(Outcome.CHANGED);
    assertThat(found.because()).isEqualTo(Because.SPREAD_GREW);
    assertThat(found.cautions()).contains(Caution.UNEQUAL_SPREAD);
  }

  @Test
  void worseSomewhereIsWorse() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 8; i++) {
      c.track("1.0", i, Campaign.LOOP, "unit-a", Direction.FORWARD, BEFORE[i]);
      c.track("1.0", i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i] + 0.2);
    }
    for (int i = 0; i < 6; i++) {
      c.track("1.1", 40 + i, Campaign.LOOP, "unit-a", Direction.FORWARD, BEFORE[i]);
      c.track("1.1", 40 + i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i] + 1.1);
    }
    Comparison found = anchor(c);
    assertThat(found.outcome()).isEqualTo(Outcome.WORSE);
    assertThat(found.because()).isEqualTo(Because.GREW_IN_A_CONDITION);
    assertThat(found.conditions()).hasSize(2);
  }

  @Test
  void onlyCommonConditionsAreCompared() {
    Campaign c = two();
    for (int i = 0; i < 6; i++)
      c.track("1.1", 40 + i, Campaign.SWING, "unit-a", Direction.FORWARD, 5.0);
    Comparison found = anchor(c);
    assertThat(found.outcome()).isEqualTo(Outcome.NOT_SETTLED);
    assertThat(found.because()).isEqualTo(Because.NO_COMMON_CONDITION);
    assertThat(found.candidateSessions()).isZero();
  }

  @Test
  void conditionsThatDifferInMixDoNotLookLikeAChange() {
    // The swing reads 2 points more under both releases; the later one was tested more in it.
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 8; i++)
      c.track(
          "1.0",
          i,
          i < 6 ? Campaign.LOOP : Campaign.SWING,
          "unit-a",
          Direction.FORWARD,
          BEFORE[i] + (i < 6 ? 0 : 2));
    for (int i = 0; i < 6; i++)
      c.track(
          "1.1",
          40 + i,
          i < 2 ? Campaign.LOOP : Campaign.SWING,
          "unit-a",
          Direction.FORWARD,
          BEFORE[i] + (i < 2 ? 0 : 2));
    Comparison found = anchor(c);
    assertThat(Math.abs(found.estimate().orElseThrow().percent())).isLessThan(0.2);
    assertThat(found.outcome()).isNotEqualTo(Outcome.WORSE);
  }

  @Test
  void theBaselineIsFrozenAtTheFirstLook() {
    Campaign c = two().sessions("1.1", 40, shifted(0, 3)).sessions("1.0", 60, 8, 9, 8, 9);
    Comparison found = anchor(c);
    assertThat(found.baselineSessions()).isEqualTo(8);
    assertThat(found.looks().get(0).baselineResults()).hasSize(8);
  }

  @Test
  void aLookKeepsItsEvidenceAndALateRunOpensAReLook() {
    Campaign c = two().sessions("1.1", 40, shifted(0.1, 3));
    LocalDate then = Campaign.FIRST.plusDays(60);
    Look first = Campaign.comparison(c.judgeAndKeep(then), "1.1", Against.ANCHOR).looks().get(0);
    LocalDate later = then.plusDays(5);
    // Judged again on the same evidence: the same look, with its date.
    assertThat(Campaign.comparison(c.judgeAndKeep(later), "1.1", Against.ANCHOR).looks())
        .containsExactly(first);
    // A run of an earlier day arrives: the old look stands, a dated one beside it.
    c.sessions("1.1", 35, 0.9);
    Comparison found = Campaign.comparison(c.judgeAndKeep(later), "1.1", Against.ANCHOR);
    assertThat(found.looks()).hasSize(2);
    assertThat(found.looks().get(0)).isEqualTo(first);
    assertThat(found.looks().get(1).reLook()).isTrue();
    assertThat(found.looks().get(1).takenAt()).isEqualTo(Campaign.at(later));
    assertThat(found.cautions()).contains(Caution.RE_LOOK);
    // And it stays so.
    assertThat(
            Campaign.comparison(c.judgeAndKeep(later.plusDays(1)), "1.1", Against.ANCHOR).looks())
        .isEqualTo(found.looks());
  }

  @Test
  void theReleaseBeforeStandsBesideWithHalfTheAlpha() {
    Campaign c = new Campaign().release("1.0").release("1.1").release("1.2");
    c.sessions("1.0", 0, BEFORE)
        .sessions("1.1", 40, shifted(0.4, 8))
        .sessions("1.2", 80, shifted(0.8, 6));
    ModelJudgement judged = c.judge();
    assertThat(judged.anchor()).hasValue("1.0");
    assertThat(Campaign.comparison(judged, "1.2", Against.ANCHOR).looks().get(0).alpha())
        .isEqualTo(0.005);
    assertThat(Campaign.comparison(judged, "1.2", Against.PREVIOUS).baseline()).isEqualTo("1.1");
    assertThat(Campaign.comparison(judged, "1.2", Against.PREVIOUS).looks().get(0).alpha())
        .isEqualTo(0.0025);
    // Small steps creep unseen against the release before; the anchor sees them.
    assertThat(Campaign.comparison(judged, "1.2", Against.ANCHOR).outcome())
        .isEqualTo(Outcome.WORSE);
    assertThat(Campaign.comparison(judged, "1.2", Against.PREVIOUS).outcome())
        .isNotEqualTo(Outcome.WORSE);
  }

  @Test
  void otherUnitsCantBeToldFromOtherFirmware() {
    Campaign c = two();
    for (int i = 0; i < 6; i++)
      c.track("1.1", 40 + i, Campaign.LOOP, "unit-b", Direction.FORWARD, BEFORE[i] + 1);
    Comparison found = anchor(c);
    assertThat(found.outcome()).isEqualTo(Outcome.NOT_SETTLED);
    assertThat(found.because()).isEqualTo(Because.UNITS_CANNOT_BE_TOLD_APART);
    c.others = Optional.of(new ModelHistory.UnitVariance(0.0001, 20));
    assertThat(anchor(c).outcome()).isEqualTo(Outcome.WORSE);
    assertThat(anchor(c).cautions()).contains(Caution.UNITS_DIFFER);
  }

  @Test
  void aControlUnitTellsABadDayFromABadRelease() {
    // The days of the later release had a bad sky, of 1.2 points, which the control saw too.
    SplittableRandom random = new SplittableRandom(4);
    Campaign with = new Campaign().release("1.0").release("1.1");
    Campaign without = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 14; i++) {
      String firmware = i < 8 ? "1.0" : "1.1";
      double sky = random.nextGaussian() * 0.8 + (i < 8 ? 0 : 1.2);
      double error = 0.5 + sky + 0.05 * random.nextGaussian();
      with.sessions(firmware, i, error).control(i, sky + 0.05 * random.nextGaussian());
      without.sessions(firmware, i, error);
    }
    Comparison adjusted = anchor(with);
    assertThat(adjusted.cautions()).contains(Caution.CONTROL_USED);
    assertThat(adjusted.looks().get(1).estimate().standardError())
        .isLessThan(anchor(without).looks().get(1).estimate().standardError() / 2);
    assertThat(adjusted.outcome()).isNotEqualTo(Outcome.WORSE);
  }

  @Test
  void theLooksCallOneInTwentyAndPoolingPassesCallsOneInThree() {
    // The design's figures: 5.3 % in all over the looks; passes pooled, 3 sessions of 6 with an
    // intraclass correlation of 0.5: 33 % where 5 % was promised. 2,000 replications.
    SplittableRandom random = new SplittableRandom(20);
    int runs = 2_000;
    int calls = 0;
    int pooled = 0;
    for (int run = 0; run < runs; run++) {
      Campaign c = new Campaign().release("1.0").release("1.1");
      for (int day = 0; day < 20; day++) {
        double session = random.nextGaussian() * Math.sqrt(0.5);
        for (int pass = 0; pass < 2; pass++)
          c.track(
              day < 8 ? "1.0" : "1.1",
              day,
              Campaign.LOOP,
              "unit-a",
              Direction.FORWARD,
              session + random.nextGaussian() * Math.sqrt(0.5));
      }
      if (calls(c)) calls++;
      if (trap(random)) pooled++;
    }
    // 4 standard errors of a share of 5.3 % in 2,000: 2 points.
    assertThat(calls / (double) runs).isCloseTo(0.053, within(0.020));
    // 4 standard errors of a share of a third: 4.2 points.
    assertThat(pooled / (double) runs).isCloseTo(0.33, within(0.042));
  }

  /** True where the difference excluded zero at any look. */
  private static boolean calls(Campaign c) {
    ModelHistory h = c.history();
    Comparison found =
        new Comparing("1.1", "1.0", Against.ANCHOR, h, c.policy, Campaign.at(Campaign.FIRST))
            .compare();
    return found.looks().stream()
        .anyMatch(
            l ->
                l.estimate().p() < l.alpha()
                    && (l.estimate().welchP().isEmpty()
                        || l.estimate().welchP().getAsDouble() < l.alpha()));
  }

  /** What pooling the passes would have called at 5 %. */
  private static boolean trap(SplittableRandom random) {
    double[] one = new double[18];
    double[] two = new double[18];
    for (int s = 0; s < 3; s++) {
      double a = random.nextGaussian();
      double b = random.nextGaussian();
      for (int p = 0; p < 6; p++) {
        one[s * 6 + p] = a + random.nextGaussian();
        two[s * 6 + p] = b + random.nextGaussian();
      }
    }
    return Contrast.pooled(Sample.of(one), Sample.of(two)).p() < 0.05;
  }

  @Test
  void theLooksFindWhatTheDesignPromises() {
    // By the third look, against 8 sessions: a shift of 1 SD in 54 %, of 2 SD in 98 %; by the
    // first, 2 SD in 32 %. 1,000 replications each, 4 standard errors.
    assertThat(found(1, 3)).isCloseTo(0.54, within(4 * Math.sqrt(0.25 / 1_000)));
    assertThat(found(2, 3)).isCloseTo(0.98, within(4 * Math.sqrt(0.02 / 1_000)));
    assertThat(found(2, 1)).isCloseTo(0.32, within(4 * Math.sqrt(0.22 / 1_000)));
  }

  private static double found(double shift, int look) {
    SplittableRandom random = new SplittableRandom(31);
    Policy plan = Policy.defaults();
    int hits = 0;
    for (int run = 0; run < 1_000; run++) {
      double[] x = random.doubles(20).toArray();
      for (int i = 0; i < 20; i++) x[i] = random.nextGaussian() + (i < 8 ? 0 : shift);
      boolean hit = false;
      for (int k = 0; k < look; k++) {
        int n = plan.looks().get(k).sessions();
        Contrast c =
            Contrast.pooled(
                Sample.of(java.util.Arrays.copyOfRange(x, 8, 8 + n)),
                Sample.of(java.util.Arrays.copyOfRange(x, 0, 8)));
        hit |= c.p() < plan.looks().get(k).alpha();
      }
      if (hit) hits++;
    }
    return hits / 1_000.0;
  }
}
