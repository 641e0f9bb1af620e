package milewarden.verdict.comparing;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Set;
import milewarden.course.Direction;
import milewarden.verdict.Arrivals;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Look;
import org.junit.jupiter.api.Test;

/** A look waits until the sessions that it rests on are whole. */
final class WaitingLooksTest {
  private static final double[] BEFORE = {0.4, 0.8, 0.5, 0.7, 0.6, 0.9, 0.3, 0.6};
  private static final Instant CAME = Campaign.at(Campaign.FIRST.plusDays(60));
  private static final Duration QUIET = Duration.ofHours(1);
  private static final String LAST = "day-42";

  /** Three sessions of 1.1, two points off; the last of them came in at {@link #CAME}. */
  private static Campaign campaign() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    c.sessions("1.0", 0, BEFORE).sessions("1.1", 40, 2.5, 2.7, 2.6);
    c.arrivals = new Arrivals(Map.of(LAST, CAME), Set.of(), false);
    return c;
  }

  private static Comparison at(Campaign c, Instant now) {
    return Campaign.comparison(c.judgeAndKeep(now), "1.1", Against.ANCHOR);
  }

  @Test
  void untilNothingOfItsSessionsHasComeForAnHour() {
    Campaign c = campaign();
    Comparison early = at(c, CAME.plus(QUIET).minusMillis(1));
    assertThat(early.looks()).isEmpty();
    assertThat(early.outcome()).isEqualTo(Outcome.NOT_SETTLED);
    assertThat(early.because()).isEqualTo(Because.STILL_COMING_IN);
    assertThat(early.lookWaitsUntil()).contains(CAME.plus(QUIET));
    assertThat(early.sessionsNeeded().orElseThrow()).isZero();
    Comparison then = at(c, CAME.plus(QUIET));
    assertThat(then.looks()).hasSize(1);
    assertThat(then.outcome()).isEqualTo(Outcome.WORSE);
    assertThat(then.lookWaitsUntil()).isEmpty();
  }

  @Test
  void notWhereEveryPlannedRowHasCome() {
    Campaign c = campaign();
    c.arrivals = new Arrivals(c.arrivals.last(), Set.of(LAST), false);
    assertThat(at(c, CAME.plusSeconds(1)).looks()).hasSize(1);
  }

  @Test
  void withEveryRowThereUntilAllIsMeasuredThatCameIn() {
    Campaign c = campaign();
    c.arrivals = new Arrivals(c.arrivals.last(), Set.of(LAST), true);
    Instant now = CAME.plusSeconds(1);
    assertThat(at(c, now).looks()).isEmpty();
    assertThat(at(c, now).lookWaitsUntil()).contains(now);
    // A queue that never empties holds up nothing for longer than the quiet time.
    assertThat(at(c, CAME.plus(QUIET)).looks()).hasSize(1);
  }

  @Test
  void notWhereALaterOutingHasBegun() {
    Campaign c = campaign();
    c.track("1.1", 61, Campaign.LOOP, "unit-a", Direction.FORWARD, 2.6);
    assertThat(at(c, Campaign.at(Campaign.FIRST.plusDays(61)).plusSeconds(60)).looks()).hasSize(1);
  }

  @Test
  void ofTheBaselineToo() {
    Campaign c = campaign();
    c.arrivals = new Arrivals(Map.of("day-7", CAME), Set.of(), false);
    assertThat(at(c, CAME.plusSeconds(60)).looks()).isEmpty();
    assertThat(at(c, CAME.plus(QUIET)).looks()).hasSize(1);
  }

  @Test
  void aClockThatRanAheadHoldsUpNothing() {
    assertThat(at(campaign(), CAME.minus(Duration.ofDays(300))).looks()).hasSize(1);
  }

  @Test
  void aPolicyWithoutQuietTimeWaitsForNothing() {
    Campaign c = campaign();
    c.policy = c.policy.withLookQuietMinutes(0);
    assertThat(at(c, CAME).looks()).hasSize(1);
  }

  @Test
  void aRunThatComesLaterOpensADatedReLookOnceItsSessionIsWholeAgain() {
    Campaign c = campaign();
    Instant taken = CAME.plus(QUIET);
    Look first = at(c, taken).looks().get(0);
    Instant late = taken.plus(Duration.ofHours(5));
    c.track("1.1", 42, Campaign.LOOP, "unit-a", Direction.FORWARD, 2.8);
    c.arrivals = new Arrivals(Map.of(LAST, late), Set.of(), false);
    Comparison meanwhile = at(c, late.plusSeconds(60));
    assertThat(meanwhile.looks()).containsExactly(first);
    assertThat(meanwhile.outcome()).isEqualTo(Outcome.WORSE);
    assertThat(meanwhile.lookWaitsUntil()).contains(late.plus(QUIET));
    List<Look> then = at(c, late.plus(QUIET)).looks();
    assertThat(then).hasSize(2).contains(first);
    assertThat(then.get(1).reLook()).isTrue();
    assertThat(then.get(1).beside()).isFalse();
    assertThat(then.get(1).takenAt()).isEqualTo(late.plus(QUIET));
  }
}
