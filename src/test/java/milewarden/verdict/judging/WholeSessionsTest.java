package milewarden.verdict.judging;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import milewarden.course.Direction;
import milewarden.verdict.Arrivals;
import milewarden.verdict.Arrivals.Came;
import milewarden.verdict.Campaign;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Threshold.State;
import org.junit.jupiter.api.Test;

/**
 * The threshold and the decisions for purposes rest on whole sessions. The limit is training's, 2
 * percent; three sessions of some 2.6 lie wholly beyond it. What a third outing's three files say
 * apart swings from 0 to 5.2; together they say 2.6.
 */
final class WholeSessionsTest {
  private static final double[] FILES = {2.6, 0.0, 5.2};
  private static final Instant FIRST = Campaign.at(Campaign.FIRST.plusDays(2)).plusSeconds(7_200);
  private static final Duration APART = Duration.ofMinutes(10);
  private static final Duration QUIET = Duration.ofHours(1);
  private static final String LAST = "day-2";

  private static Campaign before() {
    return new Campaign().release("1.0").sessions("1.0", 0, 2.55, 2.65);
  }

  /** The next file of the last session comes in at this moment. */
  private static void comes(Campaign c, double error, Instant at) {
    c.track("1.0", 2, Campaign.LOOP, "unit-a", Direction.FORWARD, error);
    PassEvidence pass = c.passes.get(c.passes.size() - 1);
    List<Came> each = new ArrayList<>(c.arrivals.each().getOrDefault(LAST, List.of()));
    each.add(new Came(at, List.of(pass.resultId())));
    c.arrivals = new Arrivals(Map.of(LAST, at), Set.of(), false, Map.of(LAST, each));
  }

  private static ReleaseJudgement release(ModelJudgement judged) {
    return judged.release("1.0").orElseThrow();
  }

  private static State state(ModelJudgement judged) {
    return release(judged).threshold().orElseThrow().state();
  }

  private static boolean told(ModelJudgement judged) {
    return judged.due().stream().anyMatch(d -> d.cause() == Cause.THRESHOLD_RAISED);
  }

  @Test
  void inWhateverOrderItsFilesComeTheThresholdMovesOnce() {
    int swung = 0;
    for (int[] order :
        new int[][] {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}) {
      Campaign c = before();
      List<State> states = new ArrayList<>();
      List<State> atOnce = new ArrayList<>();
      for (int i = 0; i < order.length; i++) {
        Instant now = FIRST.plus(APART.multipliedBy(i));
        comes(c, FILES[order[i]], now);
        ModelJudgement judged = c.judge(now);
        states.add(state(judged));
        assertThat(told(judged)).isFalse();
        assertThat(judged.waitsUntil()).contains(now.plus(QUIET));
        Arrivals arrivals = c.arrivals;
        c.arrivals = Arrivals.LONG_AGO;
        atOnce.add(state(c.judge(now)));
        c.arrivals = arrivals;
      }
      assertThat(states).containsOnly(State.UNDETERMINED);
      Instant whole = FIRST.plus(APART.multipliedBy(2)).plus(QUIET);
      assertThat(state(c.judge(whole.minusMillis(1)))).isEqualTo(State.UNDETERMINED);
      ModelJudgement then = c.judge(whole);
      assertThat(state(then)).isEqualTo(State.RAISED);
      assertThat(told(then)).isTrue();
      assertThat(then.waitsUntil()).isEmpty();
      assertThat(release(then).waiting()).isEmpty();
      if (atOnce.get(0) == State.RAISED && atOnce.get(1) == State.UNDETERMINED) swung++;
    }
    // Judged on what was there, the two orders that begin with the middle one said it twice.
    assertThat(swung).isEqualTo(2);
  }

  @Test
  void aDecisionForAPurposeWaitsToo() {
    Campaign c = before();
    comes(c, 0.0, FIRST);
    ReleaseJudgement waiting = release(c.judge(FIRST));
    assertThat(waiting.conformity())
        .extracting(d -> d.decision())
        .containsOnly(Decision.INSUFFICIENT_EVIDENCE);
    assertThat(waiting.waiting().orElseThrow().until()).isEqualTo(FIRST.plus(QUIET));
    assertThat(waiting.pooled().orElseThrow().sessions()).isEqualTo(3);
    assertThat(waiting.decidedOn().orElseThrow().sessions()).isEqualTo(2);
    assertThat(release(c.judge(FIRST.plus(QUIET))).conformity())
        .extracting(d -> d.decision())
        .doesNotContain(Decision.INSUFFICIENT_EVIDENCE);
  }

  @Test
  void wholeSessionsAreNotHeldUpByTheOneThatComesIn() {
    // Three whole ones cross the limit while a fourth outing's first file, far below, is in.
    Campaign c = before().sessions("1.0", 2, 2.6);
    c.track("1.0", 3, Campaign.LOOP, "unit-a", Direction.FORWARD, -9);
    Instant now = Campaign.at(Campaign.FIRST.plusDays(3)).plusSeconds(3_600);
    c.arrivals = new Arrivals(Map.of(LAST, FIRST, "day-3", now), Set.of(), false);
    ModelJudgement judged = c.judge(now);
    assertThat(told(judged)).isTrue();
    assertThat(release(judged).waiting().orElseThrow().results()).containsExactly(1L, 2L, 3L);
  }

  @Test
  void aFileThatComesLateTakesNothingBackUntilItsSessionIsWholeAgain() {
    Campaign c = before();
    comes(c, 2.6, FIRST);
    assertThat(state(c.judge(FIRST.plus(QUIET)))).isEqualTo(State.RAISED);
    Instant late = FIRST.plus(Duration.ofHours(5));
    comes(c, -9, late);
    ModelJudgement meanwhile = c.judge(late.plusSeconds(60));
    assertThat(state(meanwhile)).isEqualTo(State.RAISED);
    assertThat(told(meanwhile)).isTrue();
    assertThat(meanwhile.waitsUntil()).contains(late.plus(QUIET));
    assertThat(state(c.judge(late.plus(QUIET)))).isEqualTo(State.UNDETERMINED);
  }

  @Test
  void aFileThatIsLateByLessThanTheQuietTimeHoldsTheWholeSession() {
    Campaign c = before();
    comes(c, 2.6, FIRST);
    Instant late = FIRST.plus(QUIET).minusMillis(1);
    comes(c, 2.6, late);
    assertThat(state(c.judge(late))).isEqualTo(State.UNDETERMINED);
  }

  @Test
  void whatAVerdictRestsOnIsNotWaitedFor() {
    Campaign c = before();
    comes(c, 2.6, FIRST);
    Arrivals arrivals = c.arrivals;
    c.arrivals = Arrivals.LONG_AGO;
    c.publish("1.0", Campaign.FIRST.plusDays(2));
    c.arrivals = arrivals;
    ModelJudgement judged = c.judge(FIRST.plusSeconds(60));
    assertThat(release(judged).decidedOn().orElseThrow().sessions()).isEqualTo(3);
    assertThat(judged.due()).noneMatch(d -> d.cause() == Cause.DECISION_CHANGED);
  }

  @Test
  void aSuspectRunIsToldAtOnce() {
    Campaign c = before().sessions("1.0", 2, 2.6);
    c.track("1.0", 3, Campaign.LOOP, "unit-a", Direction.FORWARD, -9);
    Instant now = Campaign.at(Campaign.FIRST.plusDays(3)).plusSeconds(3_600);
    c.arrivals = new Arrivals(Map.of("day-3", now), Set.of(), false);
    assertThat(c.judge(now).suspects()).hasSize(1);
    assertThat(c.judge(now).due()).anyMatch(d -> d.cause() == Cause.SUSPECT_RUN);
  }
}
