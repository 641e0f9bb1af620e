package milewarden.accuracy.display;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import milewarden.benchmark.HabitRates;
import org.junit.jupiter.api.Test;

final class DisplayDetectiveTest {
  private static final double STEP_M = 10;

  private static ShownAndRecorded read(double shownM, double recordedM) {
    return new ShownAndRecorded(shownM, STEP_M, recordedM, 1.4);
  }

  @Test
  void sevenReadingsInsideTheCutOffWindowRefuteRoundingAtOneIn128() {
    // DOMAIN.md section 3: n runs all inside the truncation window refute rounding at 2^-n.
    List<ShownAndRecorded> readings = new ArrayList<>();
    for (int i = 0; i < 7; i++) readings.add(read(1000, 1000.5 + 1.3 * i));
    RuleFound found = DisplayDetective.of(readings);
    assertThat(found.insideCutOff()).isEqualTo(7);
    assertThat(found.chanceIfRounded()).isEqualTo(1 / 128.0);
    assertThat(found.probability().get(DisplayRule.ROUNDED)).isLessThan(1 / 128.0);
    // A display that rounds and is late by some seconds is not refuted by so few: it is not said.
    assertThat(found.probability().get(DisplayRule.CUT_OFF)).isGreaterThan(0.95);
  }

  @Test
  void readingsThatBothRulesExplainAlikeSettleNothing() {
    List<ShownAndRecorded> readings = new ArrayList<>();
    for (int i = 0; i < 12; i++) readings.add(read(1000, 1000.7 + 0.3 * i));
    RuleFound found = DisplayDetective.of(readings);
    assertThat(found.said()).isEmpty();
    // Both rules make each of these readings certain.
    assertThat(found.probability().get(DisplayRule.ROUNDED))
        .isCloseTo(found.probability().get(DisplayRule.CUT_OFF), within(0.05));
  }

  @Test
  void probabilitiesAddUpToOneAndFewReadingsSettleNothing() {
    RuleFound found = DisplayDetective.of(List.of(read(1000, 1008), read(1000, 1007)));
    assertThat(found.probability().values().stream().mapToDouble(p -> p).sum())
        .isCloseTo(1, within(1e-12));
    assertThat(found.said()).isEmpty();
  }

  @Test
  void oneMisreadNumberDoesNotTurnTheRule() {
    List<ShownAndRecorded> readings = new ArrayList<>();
    for (int i = 0; i < 20; i++) readings.add(read(1000 + 10 * i, 995.2 + 10.48 * i));
    readings.add(read(1030, 1003));
    assertThat(DisplayDetective.of(readings).said()).contains(DisplayRule.ROUNDED);
  }

  @Test
  void rulesThatWerePutInAreFoundAndNoOthers() {
    // The quick form of the command HabitRates, on seeds of its own.
    for (DisplayRule rule : DisplayRule.values()) {
      HabitRates.Rates rates = HabitRates.display(rule, 100, 1);
      assertThat(rates.held()).describedAs("%s", rule).isGreaterThanOrEqualTo(0.90);
      assertThat(rates.wrong()).describedAs("%s", rule).isLessThanOrEqualTo(0.05);
    }
  }
}
