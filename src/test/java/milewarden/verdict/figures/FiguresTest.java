package milewarden.verdict.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.verdict.Campaign;
import milewarden.verdict.Conformity;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import org.junit.jupiter.api.Test;

final class FiguresTest {
  @Test
  void aSessionIsOneFigureHoweverManyPassesItHas() {
    Campaign c = new Campaign().release("1.0");
    // Three passes forward at 2.0, one reverse at 0.0: the directions count alike, so 1.0, not 1.5.
    for (int i = 0; i < 3; i++) c.track("1.0", 0, Campaign.LOOP, "unit-a", Direction.FORWARD, 2.0);
    c.track("1.0", 0, Campaign.LOOP, "unit-a", Direction.REVERSE, 0.0);
    // Another unit, once, at 3.0: units count alike, so 2.0; another condition at 4.0: so 3.0.
    c.track("1.0", 0, Campaign.LOOP, "unit-b", Direction.FORWARD, 3.0);
    c.track("1.0", 0, Campaign.SWING, "unit-a", Direction.FORWARD, 4.0);
    SessionFigure s = c.judge().releases().get(0).sessions().get(0);
    assertThat(s.meanPercent()).isCloseTo(3.0, within(1e-12));
    assertThat(s.passes()).isEqualTo(6);
    assertThat(s.conditions()).hasSize(2);
    assertThat(s.conditions().get(0).meanPercent()).isCloseTo(2.0, within(1e-12));
    assertThat(s.conditions().get(0).oneDirection()).isFalse();
    assertThat(s.conditions().get(1).oneDirection()).isTrue();
  }

  @Test
  void theMeanOfTheVoltsOfTheGumComesWithItsUncertainty() {
    // JCGM 100:2008, H.5: ten days; mean 10.000 097 V, s of the daily means 57 uV, u 18 uV.
    Campaign c = new Campaign().release("1.0");
    var in = FiguresTest.class.getResourceAsStream("/statistics/gum/gum_h5_daily_means.csv");
    double[] volts =
        new java.util.Scanner(in, java.nio.charset.StandardCharsets.UTF_8)
            .tokens()
            .skip(1)
            .mapToDouble(line -> Double.parseDouble(line.split(",")[1]))
            .toArray();
    for (int i = 0; i < volts.length; i++) c.sessions("1.0", i, (volts[i] - 10) * 1e6);
    ReleaseFigures f = c.judge().releases().get(0).pooled().orElseThrow();
    assertThat(f.meanPercent()).isCloseTo(97, within(0.5));
    assertThat(f.sdPercent().orElseThrow()).isCloseTo(57, within(0.5));
    assertThat(f.standardUncertaintyPercent().orElseThrow()).isCloseTo(18, within(0.5));
    // GUM table G.2: t95 with 9 degrees of freedom is 2.26.
    assertThat(f.expandedUncertaintyPercent().orElseThrow())
        .isCloseTo(2.26 * 18.05, within(0.005 * 18.05 + 0.05));
    assertThat(f.degreesOfFreedom().orElseThrow()).isCloseTo(9, within(1e-9));
  }

  @Test
  void theNextRunIsTheUsualPredictionIntervalWhereEverySessionIsOnePass() {
    // Closed form: m +- t s sqrt(1 + 1/n); here n = 5, s = sqrt 2.5, t95(4) = 2.776 (GUM table
    // G.2).
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, 1, 2, 3, 4, 5);
    ReleaseFigures f = c.judge().releases().get(0).pooled().orElseThrow();
    double half = 2.776 * Math.sqrt(2.5) * Math.sqrt(1.2);
    assertThat(f.nextRun().orElseThrow().high()).isCloseTo(3 + half, within(0.001 * half));
    assertThat(f.nextRun().orElseThrow().low()).isCloseTo(3 - half, within(0.001 * half));
  }

  @Test
  void theReferenceUncertaintyNeverShrinksByRepetition() {
    Campaign c = new Campaign().release("1.0");
    c.referencePercent = 0.1;
    double[] steady = new double[40];
    for (int i = 0; i < steady.length; i++) steady[i] = 1 + 0.001 * (i % 2);
    ReleaseFigures f =
        c.sessions("1.0", 0, steady).judge().releases().get(0).pooled().orElseThrow();
    assertThat(f.standardUncertaintyPercent().orElseThrow()).isGreaterThanOrEqualTo(0.1);
  }

  @Test
  void fewSessionsAreInsufficientThenProvisional() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, 0.1, 0.2);
    assertThat(sufficiency(c)).isEqualTo(ReleaseFigures.Sufficiency.INSUFFICIENT);
    c.sessions("1.0", 2, 0.15);
    assertThat(sufficiency(c)).isEqualTo(ReleaseFigures.Sufficiency.PROVISIONAL);
    c.sessions("1.0", 3, 0.15, 0.1, 0.2);
    // Six sessions on six days, but one unit.
    assertThat(sufficiency(c)).isEqualTo(ReleaseFigures.Sufficiency.PROVISIONAL);
    for (int day = 0; day < 6; day++)
      c.track("1.0", day, Campaign.LOOP, "unit-b", Direction.FORWARD, 0.1);
    assertThat(sufficiency(c)).isEqualTo(ReleaseFigures.Sufficiency.SUFFICIENT);
  }

  private static ReleaseFigures.Sufficiency sufficiency(Campaign c) {
    return c.judge().releases().get(0).pooled().orElseThrow().sufficiency();
  }

  @Test
  void oneUnitSpeaksForItselfOnly() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, 0.1, 0.2, 0.3);
    assertThat(c.judge().releases().get(0).pooled().orElseThrow().theseUnitsOnly()).isTrue();
    c.others = Optional.of(new ModelHistory.UnitVariance(0.04, 6));
    ReleaseFigures f = c.judge().releases().get(0).pooled().orElseThrow();
    assertThat(f.theseUnitsOnly()).isFalse();
    // u^2 = s^2 / n + unit variance / 1, s = 0.1.
    assertThat(f.standardUncertaintyPercent().orElseThrow())
        .isCloseTo(Math.sqrt(0.01 / 3 + 0.04), within(1e-12));
  }

  @Test
  void conditionsCountAlikeAndOppositeSignsAreSaid() {
    Campaign c = new Campaign().release("1.0");
    for (int day = 0; day < 6; day++)
      c.track("1.0", day, Campaign.LOOP, "unit-a", Direction.FORWARD, 1 + 0.1 * (day % 2));
    for (int day = 6; day < 9; day++)
      c.track("1.0", day, Campaign.SWING, "unit-a", Direction.FORWARD, -2);
    ReleaseFigures f = c.judge().releases().get(0).pooled().orElseThrow();
    assertThat(f.meanPercent()).isCloseTo((1.05 - 2) / 2, within(1e-12));
    assertThat(f.oppositeSigns()).isTrue();
    // Nine sessions less two conditions; the difference of the conditions is no spread.
    assertThat(f.sdPercent().orElseThrow()).isCloseTo(Math.sqrt(6 * 0.0025 / 7), within(1e-12));
  }

  @Test
  void anExcludedPassStaysCountedAndDoesNotWeigh() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, 0.1, 0.2, 9.0);
    PassEvidence p = c.passes.remove(2);
    var why =
        new PassEvidence.Exclusion(
            PassEvidence.Exclusion.Reason.INTERRUPTED, "Ida", Campaign.at(Campaign.FIRST), "phone");
    c.passes.add(
        new PassEvidence(
            p.resultId(),
            p.session(),
            p.sessionStart(),
            p.date(),
            p.model(),
            p.unit(),
            p.control(),
            p.firmware(),
            p.condition(),
            p.direction(),
            p.errors(),
            p.referenceM(),
            p.referenceStandardUncertaintyPercent(),
            p.displayStepM(),
            Optional.of(why)));
    ReleaseJudgement r = c.judge().releases().get(0);
    assertThat(r.excludedPasses()).isEqualTo(1);
    assertThat(r.pooled().orElseThrow().meanPercent()).isCloseTo(0.15, within(1e-12));
  }

  @Test
  void aDisplayTooCoarseForEveryPurposeSaysWhatLengthWouldDo() {
    // Common practice, no source: a quarter-mile course, a display of hundredths of a mile that
    // reads 0.27: its step is 4 % of the course, and nothing else was recorded.
    Campaign c = new Campaign().release("1.0");
    double quarter = 0.25 * 1609.344;
    double step = 0.01 * 1609.344;
    for (int day = 0; day < 3; day++) c.shown("1.0", day, quarter, 0.27 * 1609.344, step);
    ReleaseJudgement r = c.judge().releases().get(0);
    assertThat(r.source().orElseThrow().why()).isEqualTo(Source.Why.NOTHING_FINER);
    assertThat(r.source().orElseThrow().stepPercent().orElseThrow()).isCloseTo(4, within(1e-9));
    assertThat(r.conformity())
        .extracting(Conformity::decision)
        .containsOnly(Conformity.Decision.NOT_RESOLVABLE);
    Conformity training = r.conformity().get(2);
    // A quarter of 2 % of two miles is a hundredth of a mile: eight laps.
    assertThat(training.lengthNeededM().orElseThrow()).isCloseTo(2 * 1609.344, within(1e-6));
    assertThat(training.source().lapsNeeded()).hasValue(8);
    // As read 105.6 ft long on 1,320 ft: +8 %, to +12 % where it was about to turn.
    assertThat(r.pooled().orElseThrow().meanRange().low()).isCloseTo(8, within(1e-9));
    assertThat(r.pooled().orElseThrow().meanRange().high()).isCloseTo(12, within(1e-9));
  }

  @Test
  void theOrderOfArrivalChangesNothing() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    c.sessions("1.0", 0, 0.31, 0.12, 0.27, 0.44, 0.05, 0.38, 0.21, 0.19);
    c.sessions("1.1", 40, 1.31, 1.12, 1.27, 1.44, 1.05, 1.38);
    for (int day = 40; day < 46; day++)
      c.track("1.1", day, Campaign.LOOP, "unit-b", Direction.REVERSE, 1.2 + 0.01 * day);
    ModelJudgement first = c.judge();
    java.util.Collections.shuffle(c.passes, new java.util.Random(3));
    assertThat(c.judge()).isEqualTo(first);
  }

  @Test
  void aCarriageOfItsOwnIsAConditionOfItsOwn() {
    assertThat(Campaign.LOOP).isNotEqualTo(Campaign.SWING);
    assertThat(Campaign.condition("harbour-loop", "v1", Carriage.FIXED)).isEqualTo(Campaign.LOOP);
  }
}
