package milewarden.verdict;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import milewarden.verdict.DueItem.Kind;
import milewarden.verdict.ModelHistory.OpenDue;
import milewarden.verdict.ModelHistory.VerdictOnRecord;
import milewarden.verdict.ModelHistory.Withdrawal;
import org.junit.jupiter.api.Test;

/**
 * The states of a verdict at their borders. Dates by the calendar; summer time in central Europe
 * begins on the last Sunday of March at 01:00 UTC (Directive 2000/84/EC): 2025-03-30, 2026-03-29.
 */
final class VerdictStateTest {
  private static final ZoneId BERLIN = ZoneId.of("Europe/Berlin");
  private static final Policy POLICY = Policy.defaults();

  private static Instant at(String text) {
    return Instant.parse(text);
  }

  private static PublishedVerdict published(int number, Instant when) {
    PublishedVerdict made =
        new Campaign()
            .release("1.0")
            .sessions("1.0", 0, 0.1, 0.2, 0.3)
            .publish("1.0", Campaign.FIRST.plusDays(10))
            .verdicts
            .get(0)
            .verdict();
    return new PublishedVerdict(
        made.model(),
        number,
        made.firmware(),
        made.units(),
        made.conditions(),
        made.decisions(),
        made.figures(),
        made.figuresByCondition(),
        made.threshold(),
        made.runs(),
        made.courses(),
        made.policy(),
        made.engineVersion(),
        made.theseUnitsOnly(),
        made.words(),
        when,
        made.replaces(),
        made.plan());
  }

  private static VerdictOnRecord standing(Instant when) {
    return new VerdictOnRecord(published(1, when), Optional.empty());
  }

  private static ModelHistory history(List<OpenDue> open, VerdictOnRecord... verdicts) {
    return new ModelHistory(
        "Alder", List.of(), List.of(), List.of(verdicts), List.of(), open, Optional.empty());
  }

  private static DueItem due(String key, Kind kind) {
    return DueItem.withoutFacts(
        key, kind, DueItem.Severity.STALE, DueItem.Cause.NEWER_FIRMWARE, "Alder", "2.0");
  }

  private static VerdictState state(
      VerdictOnRecord v, List<OpenDue> open, List<DueItem> due, Instant now, ZoneId zone) {
    return VerdictState.of(v, history(open, v), due, POLICY, now, zone);
  }

  @Test
  void aVerdictIsCurrentUntilTwelveMonthsOfItsZonesCalendarHavePassed() {
    // 01:30 on 30 March 2025 in Berlin, half an hour before the clocks went forward.
    VerdictOnRecord v = standing(at("2025-03-30T00:30:00Z"));
    // 01:30 on 30 March 2026 in Berlin is summer time already.
    assertThat(state(v, List.of(), List.of(), at("2026-03-29T23:29:59.999Z"), BERLIN))
        .isEqualTo(VerdictState.CURRENT);
    assertThat(state(v, List.of(), List.of(), at("2026-03-29T23:30:00Z"), BERLIN))
        .isEqualTo(VerdictState.STALE);
    assertThat(state(v, List.of(), List.of(), at("2026-03-30T00:29:59.999Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.CURRENT);
    assertThat(state(v, List.of(), List.of(), at("2026-03-30T00:30:00Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.STALE);
  }

  @Test
  void oneOfTheTwentyNinthOfFebruaryIsStaleOnTheTwentyEighth() {
    VerdictOnRecord v = standing(at("2024-02-29T12:00:00Z"));
    assertThat(state(v, List.of(), List.of(), at("2025-02-28T11:59:59Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.CURRENT);
    assertThat(state(v, List.of(), List.of(), at("2025-02-28T12:00:00Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.STALE);
  }

  @Test
  void aRetestDueForNinetyDaysOfTheZonesCalendarMakesItStale() {
    VerdictOnRecord v = standing(at("2026-01-01T12:00:00Z"));
    DueItem retest = due("newer-firmware:2.0", Kind.RETEST_DUE);
    // 13:00 on 10 January in Berlin; 90 days on is 10 April, and summer time.
    List<OpenDue> open =
        List.of(new OpenDue(retest.key(), Kind.RETEST_DUE, at("2026-01-10T12:00:00Z")));
    assertThat(state(v, open, List.of(retest), at("2026-04-10T10:59:59.999Z"), BERLIN))
        .isEqualTo(VerdictState.RETEST_DUE);
    assertThat(state(v, open, List.of(retest), at("2026-04-10T11:00:00Z"), BERLIN))
        .isEqualTo(VerdictState.STALE);
    assertThat(state(v, open, List.of(retest), at("2026-04-10T11:59:59.999Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.RETEST_DUE);
    assertThat(state(v, open, List.of(retest), at("2026-04-10T12:00:00Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.STALE);
  }

  @Test
  void aRetestThatIsFoundJustNowIsDueAndNotYetStale() {
    VerdictOnRecord v = standing(at("2026-01-01T12:00:00Z"));
    DueItem retest = due("newer-firmware:2.0", Kind.RETEST_DUE);
    assertThat(state(v, List.of(), List.of(retest), at("2026-11-01T12:00:00Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.RETEST_DUE);
  }

  @Test
  void anOpenAlertPutsItUnderReviewHoweverOldItIs() {
    VerdictOnRecord v = standing(at("2020-01-01T12:00:00Z"));
    DueItem alert = due("decision-changed:1", Kind.VERDICT_UPDATE_DUE);
    assertThat(state(v, List.of(), List.of(alert), at("2026-11-01T12:00:00Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.UNDER_REVIEW);
  }

  @Test
  void anAlertThatTheTesterClosedWithAWordIsOpenNoLonger() {
    VerdictOnRecord v = standing(at("2026-01-01T12:00:00Z"));
    DueItem alert = due("decision-changed:1", Kind.VERDICT_UPDATE_DUE);
    List<OpenDue> closed =
        List.of(
            new OpenDue(alert.key(), Kind.VERDICT_UPDATE_DUE, at("2026-02-01T12:00:00Z"), true));
    assertThat(state(v, closed, List.of(alert), at("2026-03-01T12:00:00Z"), ZoneOffset.UTC))
        .isEqualTo(VerdictState.CURRENT);
  }

  @Test
  void aWithdrawnOneStaysWithdrawnAndAnOlderOneDoesNotComeBack() {
    VerdictOnRecord first = standing(at("2026-01-01T12:00:00Z"));
    VerdictOnRecord second =
        new VerdictOnRecord(
            published(2, at("2026-02-01T12:00:00Z")),
            Optional.of(new Withdrawal(at("2026-02-02T12:00:00Z"), "The course was wrong.")));
    ModelHistory history = history(List.of(), first, second);
    Instant now = at("2026-03-01T12:00:00Z");
    assertThat(VerdictState.of(first, history, List.of(), POLICY, now, ZoneOffset.UTC))
        .isEqualTo(VerdictState.SUPERSEDED);
    assertThat(VerdictState.of(second, history, List.of(), POLICY, now, ZoneOffset.UTC))
        .isEqualTo(VerdictState.WITHDRAWN);
    assertThat(history.standing()).isEmpty();
  }
}
