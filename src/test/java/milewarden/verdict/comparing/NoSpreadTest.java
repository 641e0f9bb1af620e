package milewarden.verdict.comparing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.Arrays;
import milewarden.statistics.Contrast;
import milewarden.statistics.Sample;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Outcome;
import org.junit.jupiter.api.Test;

/**
 * Sessions whose figures are equal to the digit tell no spread, and no comparison may turn on how
 * they were rounded. A display shows 10 m on 10 km: a step of a tenth of a percent, finer than a
 * quarter of the material change, so that intervals are not widened by it.
 */
final class NoSpreadTest {
  private static final double[] STEADY = {0.6, 0.6, 0.6, 0.6, 0.6, 0.6, 0.6, 0.6};
  private static final LocalDate THEN = Campaign.FIRST.plusDays(300);

  private static Campaign campaign() {
    return new Campaign().release("1.0").release("1.1");
  }

  private static Campaign shown(double[] before, double... after) {
    Campaign c = campaign();
    for (int i = 0; i < before.length; i++) c.shown("1.0", i, 10_000, before[i], 10);
    for (int i = 0; i < after.length; i++) c.shown("1.1", 40 + i, 10_000, after[i], 10);
    return c;
  }

  private static Comparison compared(Campaign c) {
    return Campaign.comparison(c.judgeAndKeep(THEN), "1.1", Against.ANCHOR);
  }

  @Test
  void roundingIsNoDifference() {
    // 0.6 but for the last binary digit.
    double sum = 0.1 + 0.2 + 0.3;
    assertThat(sum).isNotEqualTo(0.6);
    Campaign c = campaign().sessions("1.0", 0, STEADY).sessions("1.1", 40, sum, sum, sum);
    Comparison found = compared(c);
    assertThat(found.outcome()).isEqualTo(Outcome.EQUIVALENT);
    assertThat(found.because()).isEqualTo(Because.WITHIN_MATERIAL_CHANGE);
    assertThat(found.estimate().orElseThrow().p()).isGreaterThan(0.99);
  }

  @Test
  void aDifferenceWithoutSpreadIsStillOne() {
    Campaign c = campaign().sessions("1.0", 0, STEADY).sessions("1.1", 40, 1.6, 1.6, 1.6);
    assertThat(compared(c).outcome()).isEqualTo(Outcome.WORSE);
  }

  @Test
  void oneStepBetweenEqualReadingsHasTheUncertaintyOfTheStep() {
    double[] before = new double[8];
    Arrays.fill(before, 10_050);
    Comparison found = compared(shown(before, 10_060, 10_060, 10_060));
    // GUM F.2.2.1: 0.29 of the step on either side, whatever the number of sessions.
    double u = Math.hypot(0.1 / Math.sqrt(12), 0.1 / Math.sqrt(12));
    assertThat(found.estimate().orElseThrow().percent()).isCloseTo(0.1, within(1e-9));
    assertThat(found.estimate().orElseThrow().standardError()).isCloseTo(u, within(1e-9));
    assertThat(u / 0.1).isCloseTo(0.29 * Math.sqrt(2), within(0.005));
    assertThat(found.outcome()).isEqualTo(Outcome.EQUIVALENT);
    assertThat(found.because()).isEqualTo(Because.WITHIN_MATERIAL_CHANGE);
    assertThat(found.minimumDetectableChangePercent().orElseThrow()).isGreaterThan(0);
  }

  @Test
  void elevenStepsBetweenEqualReadingsAreFound() {
    double[] before = new double[8];
    Arrays.fill(before, 10_050);
    Comparison found = compared(shown(before, 10_160, 10_160, 10_160));
    assertThat(found.outcome()).isEqualTo(Outcome.WORSE);
  }

  @Test
  void twoNeighboursOfADisplayTellNoSpread() {
    // All within a step: with four of either the deviations from the median are all alike, those of
    // the others all nothing, and a test of spread would call it certain.
    double[] before = {10_050, 10_060, 10_050, 10_060, 10_050, 10_060, 10_050, 10_060};
    Comparison found = compared(shown(before, 10_060, 10_060, 10_060));
    assertThat(found.spread()).isEmpty();
    assertThat(found.outcome()).isEqualTo(Outcome.EQUIVALENT);
    double[] rounded = STEADY.clone();
    rounded[0] = Math.nextUp(0.6);
    rounded[1] = Math.nextDown(0.6);
    Campaign c = campaign().sessions("1.0", 0, rounded).sessions("1.1", 40, 0.6, 0.6, 0.6);
    assertThat(compared(c).spread()).isEmpty();
  }

  @Test
  void whereReadingsScatterByMoreThanTheStepTheirSpreadHoldsIt() {
    double[] before = {10_050, 10_080, 10_020, 10_060, 10_090, 10_030, 10_050, 10_070};
    double[] after = {10_060, 10_040, 10_100};
    Comparison found = compared(shown(before, after));
    Contrast pooled = Contrast.pooled(Sample.of(percent(after)), Sample.of(percent(before)));
    assertThat(found.estimate().orElseThrow().standardError())
        .isCloseTo(pooled.standardError(), within(1e-12));
    assertThat(found.spread()).isPresent();
  }

  private static double[] percent(double[] shownM) {
    return Arrays.stream(shownM).map(s -> 100 * (s - 10_000) / 10_000).toArray();
  }
}
