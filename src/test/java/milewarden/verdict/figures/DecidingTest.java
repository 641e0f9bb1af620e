package milewarden.verdict.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.SplittableRandom;
import milewarden.statistics.Contrast;
import milewarden.units.PercentRange;
import milewarden.verdict.Campaign;
import milewarden.verdict.Conformity;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.Policy;
import milewarden.verdict.Source;
import milewarden.verdict.Threshold;
import org.junit.jupiter.api.Test;

final class DecidingTest {
  @Test
  void theGuardBandHasTheZonesOfTheGuide() {
    // ILAC-G8:09/2019, 4.2.3, w = U; limit 1.0, U = 0.4.
    assertThat(Deciding.guarded(0.55, 1.0, 0.4)).isEqualTo(Decision.PASS);
    assertThat(Deciding.guarded(0.60, 1.0, 0.4)).isEqualTo(Decision.PASS);
    assertThat(Deciding.guarded(0.75, 1.0, 0.4)).isEqualTo(Decision.CONDITIONAL_PASS);
    assertThat(Deciding.guarded(1.20, 1.0, 0.4)).isEqualTo(Decision.CONDITIONAL_FAIL);
    assertThat(Deciding.guarded(1.50, 1.0, 0.4)).isEqualTo(Decision.FAIL);
  }

  @Test
  void theProbabilitiesOfTheZonesAreThoseOfTheNormalDistribution() {
    // Closed form, Phi((1.0 - y) / 0.2) for one limit; the other limit is six u away or more.
    double[][] published = {
      {0.55, 0.98778}, {0.60, 0.97725}, {0.75, 0.89435}, {1.20, 0.15866}, {1.50, 0.00621}
    };
    for (double[] row : published)
      assertThat(new Contrast(row[0], 0.2, Double.POSITIVE_INFINITY).massBetween(-1, 1))
          .isCloseTo(row[1], within(5e-6));
  }

  @Test
  void theNextRunHasNoSecondGuardBand() {
    assertThat(Deciding.next(new PercentRange(-0.9, 1.0), 0.05, 1.0)).isEqualTo(Decision.PASS);
    assertThat(Deciding.next(new PercentRange(-0.9, 1.1), 0.1, 1.0))
        .isEqualTo(Decision.CONDITIONAL_FAIL);
    assertThat(Deciding.next(new PercentRange(0.9, 1.5), 1.2, 1.0)).isEqualTo(Decision.FAIL);
  }

  @Test
  void theWorseOfTheTwoStands() {
    // A mean of 0 with a spread of 1: the mean passes pacing's 1.0, the next run's 2.0 does not.
    Campaign c = new Campaign().release("1.0");
    for (int i = 0; i < 20; i++) c.sessions("1.0", i, i % 2 == 0 ? 1 : -1);
    Conformity pacing = c.judge().releases().get(0).conformity().get(1);
    assertThat(pacing.mean()).isEqualTo(Decision.PASS);
    assertThat(pacing.nextRun()).isEqualTo(Decision.CONDITIONAL_FAIL);
    assertThat(pacing.decision()).isEqualTo(Decision.CONDITIONAL_FAIL);
  }

  @Test
  void aShownErrorIsJudgedAtItsUnfavourableEnd() {
    // A display that cuts off metres on 2 km: between 1.95 and 2.0 % long.
    Campaign c = new Campaign().release("1.0");
    for (int day = 0; day < 6; day++) c.shown("1.0", day, 2000, 2039 + day % 2, 1);
    Conformity training = c.judge().releases().get(0).conformity().get(2);
    assertThat(training.source().source()).isEqualTo(Source.SHOWN);
    assertThat(training.meanPercent().orElseThrow()).isCloseTo(2.025, within(1e-9));
    assertThat(training.mean()).isEqualTo(Decision.CONDITIONAL_FAIL);
  }

  @Test
  void aLimitBelowTheReferenceIsNotResolvable() {
    Campaign c = new Campaign().release("1.0");
    c.referencePercent = 0.3;
    c.sessions("1.0", 0, 0.1, 0.2, 0.1);
    Conformity racing = c.judge().releases().get(0).conformity().get(0);
    assertThat(racing.decision()).isEqualTo(Decision.NOT_RESOLVABLE);
    // U = 0.6 % on 2 km is 12 m; 12 m are 0.5 % of 2.4 km.
    assertThat(racing.lengthNeededM().orElseThrow()).isCloseTo(2400, within(1e-6));
  }

  @Test
  void theThresholdIsRaisedHeldAndCleared() {
    Campaign c = new Campaign().release("1.0");
    c.sessions("1.0", 0, 2.9, 3.0, 3.1);
    assertThat(threshold(c).state()).isEqualTo(Threshold.State.RAISED);
    // The mean comes to the limit: held.
    c.sessions("1.0", 3, 1.5, 1.0, 1.2, 1.4);
    assertThat(threshold(c).state()).isEqualTo(Threshold.State.RAISED);
    double[] good = new double[20];
    c.sessions("1.0", 7, good);
    assertThat(threshold(c).state()).isEqualTo(Threshold.State.CLEARED);
    assertThat(threshold(c).flips()).isEqualTo(1);
  }

  @Test
  void twoSessionsDetermineNothing() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, 9.0, 9.1);
    assertThat(threshold(c).state()).isEqualTo(Threshold.State.UNDETERMINED);
  }

  private static Threshold threshold(Campaign c) {
    return c.judge().releases().get(0).threshold().orElseThrow();
  }

  @Test
  void atABiasOfExactlyTheLimitItSeldomFlips() {
    // The design's promise: at most 0.25 flips per 20 sessions where the true bias is the limit; a
    // rule of single runs flips 9.5 times there. 1,000 replications, SD = L / 2.
    SplittableRandom random = new SplittableRandom(7);
    Policy policy = Policy.defaults();
    Policy.Purpose purpose = new Policy.Purpose("training", 2, 5);
    int runs = 1_000;
    int flips = 0;
    int single = 0;
    for (int run = 0; run < runs; run++) {
      Campaign c = new Campaign().release("1.0");
      double[] x = new double[20];
      for (int i = 0; i < x.length; i++) x[i] = 2 + random.nextGaussian();
      c.sessions("1.0", 0, x);
      Evidence e = Evidence.of(Source.TRACK, c.passes);
      Source.Choice source = Source.choose(java.util.List.of(c.passes), 2, policy);
      flips += Deciding.threshold(e, purpose, source, policy, Optional.empty()).flips();
      for (int i = 1; i < x.length; i++) if (x[i] > 2 != x[i - 1] > 2) single++;
    }
    assertThat(flips / (double) runs).isLessThanOrEqualTo(0.25);
    // The trap fails: with the expectation 19 / 2, standard error below 0.07.
    assertThat(single / (double) runs).isCloseTo(9.5, within(0.28));
  }
}
