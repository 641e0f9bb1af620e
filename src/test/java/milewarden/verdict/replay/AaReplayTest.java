package milewarden.verdict.replay;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import milewarden.verdict.Campaign;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;

/** Invented periods in which nothing changed, split and judged by the judge himself. */
final class AaReplayTest {
  // Overall false alarms of looks at 3, 6 and 12 sessions at these alphas; DECISIONS section 4's
  // figure, found by simulation of normal sessions.
  private static final double STATED = 0.053;

  private static Campaign unchanged(int sessions, Random random) {
    double[] errors = new double[sessions];
    for (int i = 0; i < sessions; i++) errors[i] = 1.0 + 0.4 * random.nextGaussian();
    return new Campaign().release("1.0").sessions("1.0", 0, errors);
  }

  private static AaRate rate(Policy policy, int datasets, int splits) {
    Random random = new Random(20261125);
    List<AaReplay.Period> periods = new ArrayList<>();
    for (int i = 0; i < datasets; i++)
      AaReplay.of(unchanged(20, random).history(), "1.0", policy, Campaign.ZONE, splits, i)
          .ifPresent(periods::add);
    return new AaRate(periods);
  }

  /** What a purpose says is no test of a difference: none is near enough to matter here. */
  private static Policy far() {
    return Policy.defaults().withPurposes(List.of(new Policy.Purpose("training", 20, 50)));
  }

  @Test
  void nothingFiresMoreOftenThanStatedWithinMonteCarloError() {
    AaRate rate = rate(far(), 150, 4);
    assertThat(rate.splits()).isEqualTo(600);
    assertThat(rate.periods()).allSatisfy(p -> assertThat(p.looks()).isEqualTo(3));
    // Twice the binomial standard error of 600 splits at the stated share: 1.8 points.
    double error = Math.sqrt(STATED * (1 - STATED) / rate.splits());
    assertThat(rate.measured()).isLessThanOrEqualTo(STATED + 2 * error);
  }

  @Test
  void aJudgeWhoLooksWithoutPayingForItIsFoundOut() {
    Policy careless =
        far()
            .withLooks(
                List.of(
                    new Policy.LookPlan(3, 0.05, 0.97),
                    new Policy.LookPlan(6, 0.05, 0.97),
                    new Policy.LookPlan(9, 0.05, 0.97),
                    new Policy.LookPlan(12, 0.05, 0.90)));
    AaRate rate = rate(careless, 150, 2);
    // Four looks at 5 % each give 9 to 14 %: more than twice the stated share.
    double error = Math.sqrt(STATED * (1 - STATED) / rate.splits());
    assertThat(rate.measured()).isGreaterThan(STATED + 2 * error);
  }

  @Test
  void theSameSeedGivesTheSameRate() {
    Campaign campaign = unchanged(14, new Random(1));
    Optional<AaReplay.Period> one =
        AaReplay.of(campaign.history(), "1.0", far(), Campaign.ZONE, 20, 7);
    Optional<AaReplay.Period> two =
        AaReplay.of(campaign.history(), "1.0", far(), Campaign.ZONE, 20, 7);
    assertThat(one).isEqualTo(two);
    assertThat(one.orElseThrow().looks())
        .as("14 sessions: 7 stay, 6 of 7 are looked at")
        .isEqualTo(2);
    assertThat(one.orElseThrow().promised()).isCloseTo(0.005 + 0.014, within(1e-12));
  }

  @Test
  void aPeriodTooShortForAFirstLookIsLeftOut() {
    assertThat(
            AaReplay.of(unchanged(5, new Random(1)).history(), "1.0", far(), Campaign.ZONE, 20, 7))
        .isEmpty();
  }
}
