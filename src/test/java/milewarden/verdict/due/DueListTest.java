package milewarden.verdict.due;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import milewarden.course.Direction;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.DueItem.Kind;
import milewarden.verdict.DueItem.Severity;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.VerdictState;
import org.junit.jupiter.api.Test;

final class DueListTest {
  private static final double[] BEFORE = {0.31, 0.12, 0.27, 0.44, 0.05, 0.38, 0.21, 0.19};
  private static final LocalDate PUBLISHED = Campaign.FIRST.plusDays(20);

  private static double[] shifted(double shift, int n) {
    return IntStream.range(0, n).mapToDouble(i -> BEFORE[i % 8] + shift).toArray();
  }

  private static Campaign published() {
    return new Campaign().release("1.0").sessions("1.0", 0, BEFORE).publish("1.0", PUBLISHED);
  }

  private static List<Cause> causes(ModelJudgement judged) {
    return judged.due().stream().map(DueItem::cause).toList();
  }

  private static DueItem item(ModelJudgement judged, Cause cause) {
    return judged.due().stream().filter(d -> d.cause() == cause).findFirst().orElseThrow();
  }

  @Test
  void aVerdictOnTheNewestFirmwareIsCurrent() {
    ModelJudgement judged = published().judge(PUBLISHED.plusDays(1));
    assertThat(judged.due()).isEmpty();
    assertThat(judged.verdict().orElseThrow().state()).isEqualTo(VerdictState.CURRENT);
  }

  @Test
  void aNewerFirmwareAsksForARetestWithAdvice() {
    ModelJudgement judged = published().release("1.1").judge(PUBLISHED.plusDays(30));
    DueItem due = item(judged, Cause.NEWER_FIRMWARE);
    assertThat(due.kind()).isEqualTo(Kind.RETEST_DUE);
    assertThat(due.firmware()).isEqualTo("1.1");
    assertThat(due.facts().otherFirmware()).hasValue("1.0");
    assertThat(due.advice().sessionsNeeded()).hasValue(3);
    DueItem.NextRun next = due.advice().next().orElseThrow();
    assertThat(next.unit()).isEqualTo("unit-a");
    assertThat(next.condition()).isEqualTo(Campaign.LOOP);
    assertThat(judged.verdict().orElseThrow().state()).isEqualTo(VerdictState.RETEST_DUE);
  }

  @Test
  void theFirstSessionTurnsItIntoAComparisonNotSettled() {
    Campaign c = published().release("1.1").sessions("1.1", 40, 0.3);
    ModelJudgement judged = c.judge(PUBLISHED.plusDays(30));
    assertThat(causes(judged)).containsExactly(Cause.COMPARISON_NOT_SETTLED);
    // The direction that was not run yet comes next.
    assertThat(judged.due().get(0).advice().next().orElseThrow().direction())
        .isEqualTo(Direction.REVERSE);
  }

  @Test
  void aRegressionIsAVerdictUpdateUntilItIsPublished() {
    Campaign c = published().release("1.1").sessions("1.1", 40, shifted(1.5, 6));
    ModelJudgement judged = c.judge(PUBLISHED.plusDays(60));
    DueItem due = item(judged, Cause.COMPARISON_WORSE);
    assertThat(due.kind()).isEqualTo(Kind.VERDICT_UPDATE_DUE);
    assertThat(due.severity()).isEqualTo(Severity.REGRESSION);
    assertThat(due.facts().percent().orElseThrow()).isCloseTo(1.5, within(0.1));
    assertThat(due.evidence()).hasSize(6);
    assertThat(judged.verdict().orElseThrow().state()).isEqualTo(VerdictState.UNDER_REVIEW);
    ModelJudgement after = c.publish("1.1", PUBLISHED.plusDays(61)).judge(PUBLISHED.plusDays(62));
    assertThat(after.due()).isEmpty();
    assertThat(after.anchor()).hasValue("1.1");
  }

  @Test
  void anEquivalentReleaseAsksForNothing() {
    Campaign c = published().release("1.1").sessions("1.1", 40, shifted(0.02, 12));
    assertThat(c.judge(PUBLISHED.plusDays(60)).due()).isEmpty();
  }

  @Test
  void aReleaseThatOnlyAddsNoiseIsFound() {
    Campaign c = published().release("1.1");
    c.sessions("1.1", 40, 1.9, -1.5, 1.7, -1.2, 2.1, -1.6, 1.8, -1.3, 1.9, -1.4, 1.6, -1.1);
    DueItem due = item(c.judge(PUBLISHED.plusDays(60)), Cause.COMPARISON_CHANGED);
    assertThat(due.facts().because()).hasValue(Comparison.Because.SPREAD_GREW);
  }

  @Test
  void aVerdictThatMoreSessionsOverturnIsWrongInPublic() {
    // Published as good to pace by; the sessions after it say otherwise.
    Campaign c = published();
    c.sessions("1.0", 25, shifted(4, 16));
    ModelJudgement judged = c.judge(PUBLISHED.plusDays(60));
    DueItem due = item(judged, Cause.DECISION_CHANGED);
    assertThat(due.severity()).isEqualTo(Severity.VERDICT_WRONG);
    assertThat(due.facts().purposes()).isNotEmpty();
    assertThat(judged.due().get(0).severity()).isEqualTo(Severity.VERDICT_WRONG);
  }

  @Test
  void aVerdictGrowsOldAfterTwelveMonths() {
    Campaign c = published();
    assertThat(c.judge(PUBLISHED.plusMonths(12).minusDays(1)).due()).isEmpty();
    ModelJudgement judged = c.judge(PUBLISHED.plusMonths(12));
    assertThat(causes(judged)).containsExactly(Cause.VERDICT_OLD);
    assertThat(judged.verdict().orElseThrow().state()).isEqualTo(VerdictState.STALE);
  }

  @Test
  void ninetyDaysOfRetestDueAreStale() {
    Campaign c = published().release("1.1");
    c.open.add(
        new ModelHistory.OpenDue(
            "newer-firmware:1.1", Kind.RETEST_DUE, Campaign.at(PUBLISHED.plusDays(10))));
    assertThat(c.judge(PUBLISHED.plusDays(99)).verdict().orElseThrow().state())
        .isEqualTo(VerdictState.RETEST_DUE);
    assertThat(c.judge(PUBLISHED.plusDays(100)).verdict().orElseThrow().state())
        .isEqualTo(VerdictState.STALE);
  }

  @Test
  void aRunFarOffAsksForARepeatAndThenIsQuiet() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, BEFORE);
    c.sessions("1.0", 10, 9.0);
    ModelJudgement judged = c.judge();
    assertThat(judged.suspects()).hasSize(1);
    assertThat(judged.suspects().get(0).errorPercent()).isEqualTo(9.0);
    DueItem due = item(judged, Cause.SUSPECT_RUN);
    assertThat(due.kind()).isEqualTo(Kind.RETEST_DUE);
    assertThat(due.advice().sessionsNeeded()).hasValue(1);
    // It stays in the figures: a run is never left out because it is far off.
    assertThat(judged.releases().get(0).sessions()).hasSize(9);
    c.sessions("1.0", 11, 0.3);
    assertThat(causes(c.judge())).doesNotContain(Cause.SUSPECT_RUN);
    assertThat(c.judge().suspects().get(0).repeated()).isTrue();
  }

  @Test
  void aSuspectRunOfASupersededReleaseAsksForNothing() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    c.sessions("1.0", 0, BEFORE).sessions("1.0", 10, 9.0).sessions("1.1", 40, BEFORE);
    assertThat(causes(c.judge())).doesNotContain(Cause.SUSPECT_RUN);
  }

  @Test
  void theThresholdAloneRaisesAnItemWithoutAVerdict() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, shifted(4, 6));
    DueItem due = item(c.judge(), Cause.THRESHOLD_RAISED);
    assertThat(due.facts().limitPercent()).hasValue(2.0);
    assertThat(due.kind()).isEqualTo(Kind.VERDICT_UPDATE_DUE);
  }

  @Test
  void publishingAWeakerClaimDoesNotContradictItself() {
    // Racing was claimed; the next release is good to train by only, and is published so.
    Campaign c = published().release("1.1").sessions("1.1", 40, shifted(1.3, 12));
    c.publish("1.1", PUBLISHED.plusDays(60));
    assertThat(c.judge(PUBLISHED.plusDays(61)).due()).isEmpty();
  }

  @Test
  void aReMeasuredCourseAsksOnlyWhereThePublishedFigureMoves() {
    Campaign c = published();
    Condition again = Campaign.condition("harbour-loop", "v2", Campaign.LOOP.carriage());
    List<PassEvidence> old = List.copyOf(c.passes);
    // 0.01 % longer: no figure of one decimal moves.
    c.passes.clear();
    for (PassEvidence p : old) c.passes.add(moved(p, again, -0.01));
    assertThat(causes(c.judge(PUBLISHED.plusDays(5)))).isEmpty();
    c.passes.clear();
    for (PassEvidence p : old) c.passes.add(moved(p, again, -0.3));
    DueItem due = item(c.judge(PUBLISHED.plusDays(5)), Cause.COURSE_REMEASURED);
    assertThat(due.facts().percent().orElseThrow()).isCloseTo(-0.3, within(1e-9));
    assertThat(due.facts().course()).hasValue("harbour-loop");
  }

  @Test
  void anEngineThatMovesAPublishedFigureAsksForALook() {
    Campaign c = published();
    PublishedVerdict v = c.verdicts.remove(0).verdict();
    List<PassEvidence> old = List.copyOf(c.passes);
    c.verdicts.add(new ModelHistory.VerdictOnRecord(byEngine(v, "0"), Optional.empty()));
    // The same results: nothing moved, nothing is due.
    assertThat(causes(c.judge(PUBLISHED.plusDays(5)))).isEmpty();
    c.passes.clear();
    for (PassEvidence p : old) c.passes.add(moved(p, p.condition(), 0.06));
    DueItem due = item(c.judge(PUBLISHED.plusDays(5)), Cause.ENGINE_MOVED_RESULTS);
    assertThat(due.kind()).isEqualTo(Kind.RETEST_DUE);
    assertThat(due.severity()).isEqualTo(Severity.HOUSEKEEPING);
    assertThat(due.facts().percent().orElseThrow()).isCloseTo(0.06, within(1e-9));
    // The cause is gone where the next engine takes it back.
    c.passes.clear();
    c.passes.addAll(old);
    assertThat(causes(c.judge(PUBLISHED.plusDays(6)))).isEmpty();
  }

  @Test
  void aReMeasuredCourseThatChangesADecisionIsOneItemAndAsksForWords() {
    Campaign c = published();
    Condition again = Campaign.condition("harbour-loop", "v2", Campaign.LOOP.carriage());
    List<PassEvidence> old = List.copyOf(c.passes);
    c.passes.clear();
    for (PassEvidence p : old) c.passes.add(moved(p, again, 3));
    ModelJudgement judged = c.judge(PUBLISHED.plusDays(5));
    assertThat(causes(judged)).doesNotContain(Cause.DECISION_CHANGED);
    DueItem due = item(judged, Cause.COURSE_REMEASURED);
    assertThat(due.kind()).isEqualTo(Kind.VERDICT_UPDATE_DUE);
    assertThat(due.severity()).isEqualTo(Severity.VERDICT_WRONG);
    assertThat(due.facts().purposes()).isNotEmpty();
  }

  private static PublishedVerdict byEngine(PublishedVerdict v, String engine) {
    return new PublishedVerdict(
        v.model(),
        v.number(),
        v.firmware(),
        v.units(),
        v.conditions(),
        v.decisions(),
        v.figures(),
        v.figuresByCondition(),
        v.threshold(),
        v.runs(),
        v.courses(),
        v.policy(),
        engine,
        v.theseUnitsOnly(),
        v.words(),
        v.publishedAt(),
        v.replaces(),
        v.plan());
  }

  @Test
  void aBetterReleaseIsAVerdictUpdateButNoRegression() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, shifted(1.5, 8));
    c.publish("1.0", PUBLISHED).release("1.1").sessions("1.1", 40, shifted(0, 6));
    DueItem due = item(c.judge(PUBLISHED.plusDays(60)), Cause.COMPARISON_BETTER);
    assertThat(due.kind()).isEqualTo(Kind.VERDICT_UPDATE_DUE);
    assertThat(due.severity()).isEqualTo(Severity.STALE);
  }

  @Test
  void aThresholdThatIsClearedAgainAsksForWordsUntilTheyArePublished() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, shifted(4, 8));
    c.publish("1.0", PUBLISHED).release("1.1").sessions("1.1", 40, shifted(0, 12));
    DueItem due = item(c.judge(PUBLISHED.plusDays(60)), Cause.THRESHOLD_CLEARED);
    assertThat(due.kind()).isEqualTo(Kind.VERDICT_UPDATE_DUE);
    c.publish("1.1", PUBLISHED.plusDays(61));
    assertThat(c.judge(PUBLISHED.plusDays(62)).due()).isEmpty();
  }

  @Test
  void theMostPressingComesFirst() {
    Campaign c = published().release("1.1").sessions("1.1", 40, shifted(4, 6));
    // The published release itself turns out worse, another one is registered, a verdict is old.
    c.sessions("1.0", 25, shifted(4, 14)).release("1.2");
    List<Severity> order =
        c.judge(PUBLISHED.plusMonths(13)).due().stream().map(DueItem::severity).toList();
    assertThat(order).isSorted().contains(Severity.VERDICT_WRONG, Severity.STALE);
  }

  private static PassEvidence moved(PassEvidence p, Condition in, double by) {
    var errors =
        new milewarden.accuracy.Errors(
            OptionalDouble.of(p.errors().trackPercent().orElseThrow() + by),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty());
    return new PassEvidence(
        p.resultId() + 1000,
        p.session(),
        p.sessionStart(),
        p.date(),
        p.model(),
        p.unit(),
        p.control(),
        p.firmware(),
        in,
        p.direction(),
        errors,
        p.referenceM(),
        p.referenceStandardUncertaintyPercent(),
        p.displayStepM(),
        p.exclusion());
  }

  @Test
  void oneItemPerCauseWithTheSameKeyEveryTime() {
    Campaign c = published().release("1.1").sessions("1.1", 40, shifted(1.1, 3));
    List<String> first = c.judge().due().stream().map(DueItem::key).toList();
    c.sessions("1.1", 44, shifted(1.1, 3));
    List<String> second = c.judge().due().stream().map(DueItem::key).toList();
    assertThat(first).doesNotHaveDuplicates().isEqualTo(second);
  }

  @Test
  void aWithdrawnVerdictStandsNoMore() {
    Campaign c = published();
    PublishedVerdict v = c.verdicts.remove(0).verdict();
    c.verdicts.add(
        new ModelHistory.VerdictOnRecord(
            v,
            Optional.of(
                new ModelHistory.Withdrawal(Campaign.at(PUBLISHED.plusDays(2)), "Wrong course."))));
    assertThat(c.history().standing()).isEmpty();
    assertThat(c.judge(PUBLISHED.plusDays(3)).verdict().orElseThrow().state())
        .isEqualTo(VerdictState.WITHDRAWN);
  }
}
