package milewarden.verdict.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import milewarden.verdict.Campaign;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Threshold;
import milewarden.verdict.Threshold.State;
import org.junit.jupiter.api.Test;

/** The design's rule for the limit with hysteresis, sentence by sentence. */
final class ThresholdTest {
  private static Threshold of(Campaign c, String version) {
    return c.judge().releases().stream()
        .filter(r -> r.release().version().equals(version))
        .findFirst()
        .orElseThrow()
        .threshold()
        .orElseThrow();
  }

  private static Threshold of(double... errors) {
    return of(new Campaign().release("1.0").sessions("1.0", 0, errors), "1.0");
  }

  @Test
  void withoutAVerdictTheLimitIsTrainings() {
    assertThat(of(0.1, 0.2, 0.3).purpose()).isEqualTo("training");
    assertThat(of(0.1, 0.2, 0.3).limitPercent()).isEqualTo(2.0);
  }

  @Test
  void withAVerdictItIsTheStrictestThatIsClaimed() {
    double[] good = {0.02, 0.01, 0.03, 0.04, 0.00, 0.02, 0.01, 0.03};
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, good);
    c.publish("1.0", Campaign.FIRST.plusDays(20));
    assertThat(of(c, "1.0").purpose()).isEqualTo("racing");
    assertThat(of(c, "1.0").limitPercent()).isEqualTo(0.5);
  }

  /** Mean 2.6, SD 0.1: the 97 % interval of three by t (df 2, 5.643) is +-0.326. */
  @Test
  void fromThreeSessionsOnTheIntervalIsThatOf97Percent() {
    Threshold t = of(2.5, 2.6, 2.7);
    assertThat(t.state()).isEqualTo(State.RAISED);
    // t(0.985, 2) = 5.6428 (R: qt(.985, 2)); times 0.1 / sqrt 3.
    assertThat(t.interval().orElseThrow().low()).isCloseTo(2.6 - 5.6428 * 0.057735, within(1e-4));
    // Half of the way nearer, it reaches below the limit: held.
    assertThat(of(2.2, 2.3, 2.4).state()).isEqualTo(State.UNDETERMINED);
  }

  /** Six with SD 0.1095: t(0.95, 5) = 2.0150 (R: qt(.95, 5)). */
  @Test
  void fromSixSessionsOnItIsThatOf90Percent() {
    Threshold t = of(2.2, 2.4, 2.2, 2.4, 2.2, 2.4);
    double u = Math.sqrt(0.012) / Math.sqrt(6);
    assertThat(t.interval().orElseThrow().low()).isCloseTo(2.3 - 2.0150 * u, within(1e-4));
    assertThat(t.state()).isEqualTo(State.RAISED);
  }

  @Test
  void itIsRaisedOnEitherSideOfZero() {
    assertThat(of(-2.5, -2.6, -2.7).state()).isEqualTo(State.RAISED);
  }

  @Test
  void theReferenceIsInTheInterval() {
    Campaign c = new Campaign().release("1.0");
    c.referencePercent = 0.5;
    c.sessions("1.0", 0, 2.5, 2.6, 2.7);
    assertThat(of(c, "1.0").state()).isEqualTo(State.UNDETERMINED);
  }

  @Test
  void theFirstTransitionIsNoFlip() {
    Threshold t = of(2.5, 2.6, 2.7);
    assertThat(t.transitions()).hasSize(1);
    assertThat(t.flips()).isZero();
  }

  /** Outside its own next-run interval and beyond three times the limit of 2 %. */
  @Test
  void aSuspectRunNeedsBothAndAsksForARepeatNotForAVerdict() {
    double[] steady = {0.1, 0.2, 0.3, 0.1, 0.2, 0.3};
    Campaign far = new Campaign().release("1.0").sessions("1.0", 0, steady);
    // Far outside of what it does, but not beyond 6 %: none.
    assertThat(far.sessions("1.0", 10, 5.9).judge().suspects()).isEmpty();
    Campaign both = new Campaign().release("1.0").sessions("1.0", 0, steady);
    ModelJudgement judged = both.sessions("1.0", 10, 6.1).judge();
    assertThat(judged.suspects()).hasSize(1);
    List<DueItem.Kind> kinds =
        judged.due().stream()
            .filter(d -> d.cause() == DueItem.Cause.SUSPECT_RUN)
            .map(DueItem::kind)
            .toList();
    assertThat(kinds).containsExactly(DueItem.Kind.RETEST_DUE);
    // A device that always scatters so far does what it does.
    double[] wild = {-8, 8, -7, 9, -9, 7};
    Campaign scatter = new Campaign().release("1.0").sessions("1.0", 0, wild);
    assertThat(scatter.sessions("1.0", 10, 9.5).judge().suspects()).isEmpty();
  }

  /** Each step is what a release with those sessions alone, judged by itself, says. */
  @Test
  void itIsReplayedAsItWouldHaveBeenJudgedAfterEachSession() {
    for (int seed = 0; seed < 20; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      double[] errors = new double[14];
      for (int i = 0; i < errors.length; i++) errors[i] = 2 + random.nextGaussian();
      Threshold whole = of(errors);
      List<State> states = new ArrayList<>();
      for (int n = 3; n <= errors.length; n++) {
        Threshold then = of(Arrays.copyOf(errors, n));
        if (states.isEmpty() && then.state() == State.UNDETERMINED) continue;
        if (states.isEmpty() || states.get(states.size() - 1) != then.state()) {
          states.add(then.state());
          Threshold.Transition t = whole.transitions().get(states.size() - 1);
          assertThat(t.session()).isEqualTo("day-" + (n - 1));
          assertThat(t.interval()).isEqualTo(then.interval().orElseThrow());
        }
      }
      assertThat(whole.transitions().stream().map(Threshold.Transition::to))
          .as("seed " + seed)
          .isEqualTo(states);
    }
  }
}
