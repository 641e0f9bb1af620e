package milewarden.verdict.comparing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.List;
import java.util.SplittableRandom;
import milewarden.statistics.Contrast;
import milewarden.statistics.Sample;
import milewarden.verdict.DecisionRates;
import milewarden.verdict.DecisionRates.Calls;
import milewarden.verdict.DecisionRates.Order;
import milewarden.verdict.DecisionRates.Rate;
import milewarden.verdict.DecisionRates.Setting;
import org.junit.jupiter.api.Test;

/**
 * The quick form of the rates that {@code benchmark.DecisionRatesBenchmark} measures with 100,000
 * replications. Bounds are 4 standard errors of a share: one in 16,000 by chance.
 */
final class DecisionRatesTest {
  // The design's figures: 5.3 % over looks at 3, 6 and 12 sessions with alpha .005, .014, .045.
  private static final double PROMISED = 0.053;

  @Test
  void aComparisonOfTheSameThingIsCalledInOneOfNineteen() {
    Calls calls = DecisionRates.calls(Setting.PLAIN, 101, 2_500);
    Rate rate = calls.called(3);
    assertThat(rate.share()).isCloseTo(PROMISED, within(4 * rate.error(PROMISED)));
  }

  @Test
  void twoUnitsAndTwoConditionsInOneOutingCallNoMore() {
    Setting outing = new Setting(2, 2, 0.8, 0.6, 0.3, 0, 0, 1, false);
    Rate rate = DecisionRates.calls(outing, 102, 1_200).called(3);
    assertThat(rate.share()).isLessThan(PROMISED + 4 * rate.error(PROMISED));
    // And it is a test: it does call.
    assertThat(rate.share()).isGreaterThan(0);
  }

  @Test
  void theLooksFindWhatTheDesignPromises() {
    // Against 8 sessions, by looks 1, 2, 3: 1 SD in 5, 21, 54 %; 2 SD in 32, 79, 98 %; 3 SD in 74,
    // 99, 100 %, to half a point.
    double[][] design = {{0.05, 0.21, 0.54}, {0.32, 0.79, 0.98}, {0.74, 0.99, 1.00}};
    for (int shift = 1; shift <= 3; shift++) {
      Calls calls = DecisionRates.calls(Setting.PLAIN.shifted(shift), 110 + shift, 800);
      for (int look = 1; look <= 3; look++) {
        double promised = design[shift - 1][look - 1];
        Rate found = calls.found(look);
        double bound = 4 * found.error(Math.min(0.99, promised)) + 0.005;
        assertThat(found.share())
            .as(shift + " SD, look " + look)
            .isCloseTo(promised, within(bound));
        // Where the spreads differ beyond chance Welch's test must agree: at most 5 points less.
        assertThat(calls.called(look).share())
            .as(shift + " SD, look " + look + ", called")
            .isGreaterThan(promised - 0.05 - bound);
      }
    }
  }

  @Test
  void filesInAnyOrderCallNoMoreAtAnyMoment() {
    for (Duration apart : List.of(Duration.ofDays(2), Duration.ofMinutes(1))) {
      Rate rate = DecisionRates.arriving(Setting.PLAIN, Order.any(apart), 106, 800).ever();
      assertThat(rate.share()).isLessThan(PROMISED + 4 * rate.error(PROMISED));
    }
  }

  @Test
  void judgingAtEveryMomentSaysWhatJudgingAtLooksSays() {
    Setting four = new Setting(1, 2, 0.8, 0, 0.6, 0, 0, 1, false).shifted(1);
    List<Order> orders =
        List.of(
            Order.any(Duration.ofMinutes(1)),
            Order.any(Duration.ofDays(2)),
            Order.outings(Duration.ofMinutes(10), Duration.ofDays(2)));
    for (Order order : orders)
      for (Setting s : List.of(Setting.PLAIN.shifted(1), four)) {
        // Files of one outing that come days apart make a look anew at every one of them.
        if (s.pass() > 0 && order.within().toDays() > 0) continue;
        assertThat(DecisionRates.arriving(s, order, 108, 24))
            .as(order + ", " + s)
            .isEqualTo(DecisionRates.arriving(s, order.judgedAlways(), 108, 24));
      }
  }

  @Test
  void outingsThatComeInFileByFileCallNoMoreAtAnyMoment() {
    Setting four = new Setting(1, 2, 0.8, 0, 0.6, 0, 0, 1, false);
    Order order = Order.outings(Duration.ofMinutes(10), Duration.ofDays(2));
    Rate rate = DecisionRates.arriving(four, order, 107, 400).ever();
    assertThat(rate.share()).isLessThan(PROMISED + 4 * rate.error(PROMISED));
  }

  @Test
  void poolingPassesCallsOneInThree() {
    // The trap that sessions are there for: 3 sessions of 6 passes with an intraclass correlation
    // of 0.5, pooled, give 33 % where 5 % was promised (the design's figure).
    SplittableRandom random = new SplittableRandom(20);
    int runs = 4_000;
    int pooled = 0;
    for (int run = 0; run < runs; run++) if (trap(random)) pooled++;
    Rate rate = new Rate(pooled / (double) runs, runs);
    assertThat(rate.share()).isCloseTo(0.33, within(4 * rate.error(0.33) + 0.005));
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
}
