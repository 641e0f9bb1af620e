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
    assertThat(found.looks().get(1).beside()).isTrue();
    assertThat(found.cautions()).contains(Caution.RE_LOOK);
    // And it stays so.
    assertThat(
            Campaign.comparison(c.judgeAndKeep(later.plusDays(1)), "1.1", Against.ANCHOR).looks())
        .isEqualTo(found.looks());
  }

  private static Comparison kept(Campaign c, LocalDate day) {
    return Campaign.comparison(c.judgeAndKeep(day), "1.1", Against.ANCHOR);
  }

  @Test
  void aSessionThatComesLateCallsNothingAtALookThatWasTaken() {
    Campaign c = two().sessions("1.1", 40, BEFORE[0] + 2, BEFORE[1] - 2, BEFORE[2]);
    LocalDate then = Campaign.FIRST.plusDays(60);
    assertThat(kept(c, then).outcome()).isNotEqualTo(Outcome.WORSE);
    // Two earlier sessions come: by order of start the look would hold these and the first.
    c.sessions("1.1", 30, shifted(2, 2));
    Comparison found = kept(c, then.plusDays(5));
    assertThat(found.looks().get(1).outcome()).isEqualTo(Outcome.WORSE);
    assertThat(found.outcome()).isNotEqualTo(Outcome.WORSE);
    assertThat(found.lastLook()).contains(found.looks().get(0));
    // The look to come counts them with the rest, and it decides.
    c.sessions("1.1", 50, shifted(2, 1));
    Comparison next = kept(c, then.plusDays(9));
    assertThat(next.lastLook().orElseThrow().number()).isEqualTo(2);
    assertThat(next.lastLook().orElseThrow().candidateResults()).hasSize(6);
  }

  @Test
  void aPassExcludedFromALookMakesALookThatTakesItsPlace() {
    Campaign c = two().sessions("1.1", 40, shifted(2, 4));
    LocalDate then = Campaign.FIRST.plusDays(60);
    Look first = kept(c, then).lastLook().orElseThrow();
    assertThat(first.outcome()).isEqualTo(Outcome.WORSE);
    c.passes.removeIf(p -> p.session().equals("day-40"));
    Look again = kept(c, then.plusDays(5)).lastLook().orElseThrow();
    assertThat(again.reLook()).isTrue();
    assertThat(again.drawn().orElseThrow().candidate())
        .containsExactly("day-41", "day-42", "day-43");
  }

  @Test
  void aPassMoreOfTheSameSessionsMakesALookThatTakesItsPlace() {
    Campaign c = two().sessions("1.1", 40, shifted(0, 3));
    LocalDate then = Campaign.FIRST.plusDays(60);
    kept(c, then);
    c.track("1.1", 41, Campaign.LOOP, "unit-a", Direction.FORWARD, 0.3);
    Look again = kept(c, then.plusDays(5)).lastLook().orElseThrow();
    assertThat(again.reLook()).isTrue();
    assertThat(again.beside()).isFalse();
    assertThat(again.candidateResults()).hasSize(4);
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
  void sessionsOfOneDirectionAreComparedWithTheirLike() {
    // On the loop the wrist's side reads 0.6 points more forward and as much less in reverse. The
    // baseline was run both ways on eight days and forward only on four, the later release, which
    // changed nothing, forward only.
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 8; i++) {
      c.track("1.0", i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i] + 0.6);
      c.track("1.0", i, Campaign.SWING, "unit-a", Direction.REVERSE, BEFORE[i] - 0.6);
    }
    for (int i = 8; i < 12; i++)
      c.track("1.0", i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i % 8] + 0.6);
    for (int i = 0; i < 6; i++)
      c.track("1.1", 40 + i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i] + 0.6);
    Comparison found = anchor(c);
    assertThat(found.looks().get(1).baselineResults()).hasSize(4);
    assertThat(found.estimate().orElseThrow().percent()).isCloseTo(0, within(0.1));
    assertThat(found.outcome()).isNotEqualTo(Outcome.WORSE);
    assertThat(found.cautions()).contains(Caution.ONE_DIRECTION);
  }

  @Test
  void withoutALikeBothAreCutToTheDirectionThatTheyShare() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 8; i++) {
      c.track("1.0", i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i] + 0.6);
      c.track("1.0", i, Campaign.SWING, "unit-a", Direction.REVERSE, BEFORE[i] - 0.6);
    }
    for (int i = 0; i < 6; i++)
      c.track("1.1", 40 + i, Campaign.SWING, "unit-a", Direction.FORWARD, BEFORE[i] + 0.6);
    Comparison found = anchor(c);
    // The forward passes of all eight: by algebra the mean of BEFORE's first six less that of all.
    double expected =
        Sample.of(java.util.Arrays.copyOf(BEFORE, 6)).mean() - Sample.of(BEFORE).mean();
    assertThat(found.estimate().orElseThrow().percent()).isCloseTo(expected, within(1e-12));
    assertThat(found.looks().get(1).baselineResults()).hasSize(8);
    assertThat(found.cautions()).contains(Caution.LEFT_OUT_FOR_DIRECTION);
  }

  @Test
  void aReplacedUnitIsReanchoredBySixJointSessions() {
    // The new unit reads 1 point more than the old; a release between carried both for six days.
    Campaign c = new Campaign().release("1.0").release("1.0.1").release("1.1");
    c.sessions("1.0", 0, BEFORE);
    for (int i = 0; i < 6; i++) {
      c.track("1.0.1", 30 + i, Campaign.LOOP, "unit-a", Direction.FORWARD, BEFORE[i] + 0.3);
      double off = i % 2 == 0 ? 0.02 : -0.02;
      c.track("1.0.1", 30 + i, Campaign.LOOP, "unit-b", Direction.FORWARD, BEFORE[i] + 1.3 + off);
    }
    for (int i = 0; i < 6; i++)
      c.track("1.1", 40 + i, Campaign.LOOP, "unit-b", Direction.FORWARD, BEFORE[i] + 1);
    Comparison found = Campaign.comparison(c.judge(), "1.1", Against.ANCHOR);
    assertThat(found.cautions()).contains(Caution.RE_ANCHORED);
    double expected =
        Sample.of(java.util.Arrays.copyOf(BEFORE, 6)).mean() - Sample.of(BEFORE).mean();
    assertThat(found.estimate().orElseThrow().percent()).isCloseTo(expected, within(1e-12));
    // The offset's own error, 0.02 sqrt(6/5) / sqrt 6, is carried: in squares, beside the pooled
    // one.
    double pooled =
        Contrast.pooled(Sample.of(java.util.Arrays.copyOf(BEFORE, 6)), Sample.of(BEFORE))
            .standardError();
    assertThat(found.estimate().orElseThrow().standardError())
        .isCloseTo(Math.hypot(pooled, 0.02 / Math.sqrt(5)), within(1e-12));
    // One joint day fewer, and the unit can't be told from the firmware.
    c.passes.removeIf(p -> p.session().equals("day-30"));
    assertThat(Campaign.comparison(c.judge(), "1.1", Against.ANCHOR).because())
        .isEqualTo(Because.UNITS_CANNOT_BE_TOLD_APART);
  }

  @Test
  void sessionsWithoutAControlAreLeftOutOfTheAdjustedDifference() {
    SplittableRandom random = new SplittableRandom(4);
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 14; i++) {
      double sky = random.nextGaussian();
      c.sessions(i < 8 ? "1.0" : "1.1", i, 0.5 + sky + 0.05 * random.nextGaussian());
      if (i != 2 && i != 9) c.control(i, sky + 0.05 * random.nextGaussian());
    }
    Comparison found = anchor(c);
    assertThat(found.cautions()).contains(Caution.CONTROL_USED, Caution.SESSIONS_WITHOUT_CONTROL);
    // Twelve paired sessions less level, firmware and slope.
    assertThat(found.looks().get(1).estimate().degreesOfFreedom()).isEqualTo(9);
    assertThat(found.sides().orElseThrow().candidate().sessions()).isEqualTo(6);
  }

  @Test
  void aControlWhoseFirmwareChangedIsAnotherControl() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int i = 0; i < 14; i++) {
      c.sessions(i < 8 ? "1.0" : "1.1", i, BEFORE[i % 8]);
      c.control(i, BEFORE[i % 8] + (i < 8 ? 0 : 2));
    }
    // A control that was updated with the release would take its own step out of the difference.
    c.passes.replaceAll(
        p ->
            p.control() && p.sessionStart().isAfter(Campaign.at(Campaign.FIRST.plusDays(7)))
                ? Campaign.with(p, "1.0")
                : p);
    assertThat(anchor(c).cautions()).doesNotContain(Caution.CONTROL_USED);
  }

  @Test
  void aTakenLookIsNeverLost() {
    Campaign c = two().sessions("1.1", 40, shifted(1.5, 3));
    LocalDate then = Campaign.FIRST.plusDays(60);
    Look first = Campaign.comparison(c.judgeAndKeep(then), "1.1", Against.ANCHOR).looks().get(0);
    // One of its three sessions is taken out: the look stands, a re-look on the two left beside it.
    c.passes.removeIf(p -> p.session().equals("day-41"));
    ModelJudgement judged = c.judgeAndKeep(then.plusDays(1));
    Comparison found = Campaign.comparison(judged, "1.1", Against.ANCHOR);
    assertThat(found.looks().get(0)).isEqualTo(first);
    assertThat(found.looks()).hasSize(2);
    assertThat(found.looks().get(1).candidateResults()).hasSize(2);
    assertThat(found.outcome()).isEqualTo(found.looks().get(1).outcome());
    // And a second change adds a third: none takes another's place.
    c.sessions("1.1", 41, 1.9);
    assertThat(Campaign.comparison(c.judgeAndKeep(then.plusDays(2)), "1.1", Against.ANCHOR).looks())
        .hasSize(3)
        .startsWith(first);
  }

  @Test
  void whatOtherModelsUnitsDoOpensNoReLook() {
    Campaign c = two().sessions("1.1", 40, shifted(0.1, 3));
    LocalDate then = Campaign.FIRST.plusDays(60);
    c.judgeAndKeep(then);
    c.others = Optional.of(new ModelHistory.UnitVariance(0.01, 12));
    assertThat(Campaign.comparison(c.judgeAndKeep(then.plusDays(1)), "1.1", Against.ANCHOR).looks())
        .hasSize(1);
  }

  @Test
  void aLookThatIsKeptTakesNothingFromWhatIsFoundAnew() {
    SplittableRandom random = new SplittableRandom(11);
    Campaign c = new Campaign().release("1.0").release("1.1");
    double[] first = new double[8];
    double[] later = new double[12];
    for (int i = 0; i < first.length; i++) first[i] = random.nextGaussian();
    for (int i = 0; i < later.length; i++) later[i] = 1 + random.nextGaussian();
    c.sessions("1.0", 0, first).sessions("1.1", 40, later);
    Comparison fresh = Campaign.comparison(c.judge(), "1.1", Against.ANCHOR);
    c.judgeAndKeep(Campaign.FIRST.plusDays(80));
    Comparison again =
        Campaign.comparison(c.judge(Campaign.FIRST.plusDays(81)), "1.1", Against.ANCHOR);
    assertThat(again.estimate()).isEqualTo(fresh.estimate());
    assertThat(again.estimate().orElseThrow().permutationP()).isPresent();
    // The last session comes to lie in the one before it: another fit, another p.
    int last = c.passes.size() - 1;
    c.passes.set(last, c.passes.get(last - 1).withResultId(c.passes.get(last).resultId()));
    assertThat(Campaign.comparison(c.judge(), "1.1", Against.ANCHOR).estimate())
        .isNotEqualTo(fresh.estimate());
  }
}
