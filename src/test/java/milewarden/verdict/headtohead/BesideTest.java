package milewarden.verdict.headtohead;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.headtohead.Beside.Entrant;
import milewarden.verdict.headtohead.HeadToHead.Difference;
import milewarden.verdict.headtohead.HeadToHead.Pair;
import milewarden.verdict.headtohead.HeadToHead.Release;
import org.junit.jupiter.api.Test;

final class BesideTest {
  // Hours of sleep that two drugs added, ten patients: Student (1908), Biometrika 6, 1-25; R's data
  // set 'sleep'.
  private static final double[] FIRST = {0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
  private static final double[] SECOND = {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};
  private static final Condition LOOP = condition("loop", Carriage.FIXED);
  private static final Condition LEFT = condition("loop", Carriage.SWING_LEFT);
  private static final Condition RIGHT = condition("loop", Carriage.SWING_RIGHT);
  private static final Condition OTHER = condition("other", Carriage.FIXED);

  private final List<PassEvidence> a = new ArrayList<>();
  private final List<PassEvidence> b = new ArrayList<>();
  private long results;

  private static Condition condition(String course, Carriage carriage) {
    return new Condition(course, "v1", SkyView.OPEN, carriage, Gait.WALK, "");
  }

  private void pass(
      List<PassEvidence> to,
      String model,
      int day,
      Condition condition,
      Direction way,
      double error) {
    Instant start = Instant.parse("2026-03-02T08:00:00Z").plus(Duration.ofDays(day));
    to.add(
        new PassEvidence(
            ++results,
            "S" + day,
            start,
            start.atZone(ZoneOffset.UTC).toLocalDate(),
            model,
            model + "-1",
            false,
            "1.0",
            condition,
            way,
            new Errors(
                OptionalDouble.of(error),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                Optional.empty()),
            1000,
            0.05,
            Double.NaN,
            Optional.empty()));
  }

  private HeadToHead head() {
    return Beside.of(
        List.of(
            new Entrant(new Release(1, "A", "1.0"), a), new Entrant(new Release(2, "B", "1.0"), b)),
        Policy.defaults(),
        Optional.empty());
  }

  private void sleep(int shift) {
    for (int i = 0; i < FIRST.length; i++) {
      pass(a, "A", i, LOOP, Direction.FORWARD, FIRST[i]);
      pass(b, "B", i + shift, LOOP, Direction.FORWARD, SECOND[i]);
    }
  }

  /**
   * R 4, the example of t.test: t.test(extra ~ group, data = sleep, paired = TRUE) prints t =
   * -4.0621, df = 9, p-value = 0.002833, 95 percent confidence interval -2.4598858 -0.7001142.
   */
  @Test
  void carriedTogetherItIsStudentsPairedTest() {
    sleep(0);
    Pair pair = head().pairs().get(0);
    assertThat(pair.together()).isEqualTo(10);
    Difference d = pair.carriedTogether().orElseThrow();
    assertThat(d.points()).isCloseTo(-1.58, within(1e-12));
    assertThat(d.points() / d.standardError()).isCloseTo(-4.0621, within(5e-5));
    assertThat(d.degreesOfFreedom()).isCloseTo(9, within(1e-9));
    assertThat(d.p()).isCloseTo(0.002833, within(5e-7));
    assertThat(d.interval().low()).isCloseTo(-2.4598858, within(5e-8));
    assertThat(d.interval().high()).isCloseTo(-0.7001142, within(5e-8));
    assertThat(pair.best()).isEqualTo(pair.carriedTogether());
    assertThat(d.toldApart()).isTrue();
    assertThat(d.unitPercent()).as("the units are not told apart from the model").isEmpty();
  }

  /**
   * The same as two samples: t.test(extra ~ group, data = sleep) prints t = -1.8608, df = 17.776,
   * p-value = 0.07939, 95 percent confidence interval -3.3654832 0.2054832.
   */
  @Test
  void onSessionsOfTheirOwnItIsWelchsTest() {
    sleep(100);
    Pair pair = head().pairs().get(0);
    assertThat(pair.together()).isZero();
    assertThat(pair.carriedTogether()).isEmpty();
    Difference d = pair.best().orElseThrow();
    assertThat(d.points() / d.standardError()).isCloseTo(-1.8608, within(5e-5));
    assertThat(d.degreesOfFreedom()).isCloseTo(17.776, within(5e-4));
    assertThat(d.p()).isCloseTo(0.07939, within(5e-6));
    assertThat(d.interval().low()).isCloseTo(-3.3654832, within(5e-8));
    assertThat(d.interval().high()).isCloseTo(0.2054832, within(5e-8));
    assertThat(d.toldApart()).isFalse();
  }

  /** Ten passes of one outing are one outing: they add no degree of freedom. */
  @Test
  void passesOfASessionAreNeverPooled() {
    for (int i = 0; i < FIRST.length; i++)
      for (int again = 0; again < 10; again++) {
        pass(a, "A", i, LOOP, Direction.FORWARD, FIRST[i]);
        pass(b, "B", i, LOOP, Direction.FORWARD, SECOND[i]);
      }
    Difference d = head().pairs().get(0).carriedTogether().orElseThrow();
    assertThat(d.degreesOfFreedom()).isCloseTo(9, within(1e-9));
    assertThat(d.p()).isCloseTo(0.002833, within(5e-7));
  }

  /** Bonferroni: with three pairs t at 1 - 0.05 / 3; t(0.99167; 9) = 2.933 by R's qt. */
  @Test
  void whereThreePairsAreAskedAllThreeIntervalsHoldTogether() {
    sleep(0);
    List<PassEvidence> c = new ArrayList<>();
    for (int i = 0; i < FIRST.length; i++) pass(c, "C", i, LOOP, Direction.FORWARD, 0);
    HeadToHead three =
        Beside.of(
            List.of(
                new Entrant(new Release(1, "A", "1.0"), a),
                new Entrant(new Release(2, "B", "1.0"), b),
                new Entrant(new Release(3, "C", "1.0"), c)),
            Policy.defaults(),
            Optional.empty());
    assertThat(three.pairs()).hasSize(3);
    Difference d = three.pairs().get(0).carriedTogether().orElseThrow();
    double factor = (d.simultaneous().high() - d.points()) / d.standardError();
    assertThat(factor).isCloseTo(2.933, within(5e-4));
    assertThat(d.simultaneous().low()).isLessThan(d.interval().low());
  }

  @Test
  void whatIsNotInCommonIsLeftOutAndCounted() {
    sleep(0);
    for (int i = 20; i < 25; i++) pass(a, "A", i, OTHER, Direction.FORWARD, 50);
    HeadToHead head = head();
    assertThat(head.common()).containsExactly(LOOP);
    assertThat(head.sides().get(0).elsewhere()).isEqualTo(5);
    // The mean of the first drug in the data set is 0.75 hours.
    assertThat(head.sides().get(0).figures().orElseThrow().meanPercent())
        .isCloseTo(0.75, within(1e-12));
    assertThat(head.sides().get(0).figures().orElseThrow().sessions()).isEqualTo(10);
  }

  @Test
  void withNothingInCommonNothingIsSaid() {
    for (int i = 0; i < 4; i++) {
      pass(a, "A", i, LOOP, Direction.FORWARD, i);
      pass(b, "B", i, OTHER, Direction.FORWARD, i);
    }
    HeadToHead head = head();
    assertThat(head.common()).isEmpty();
    assertThat(head.sides()).allMatch(s -> s.figures().isEmpty() && s.conformity().isEmpty());
    assertThat(head.pairs().get(0).best()).isEmpty();
  }

  /** A wrist reads 2 pi 0.35 m longer on one side of a loop: only the way that both went counts. */
  @Test
  void leftAndRightWristAreOneAndOnlyWaysThatBothWentAreHeldAgainstEachOther() {
    for (int i = 0; i < 4; i++) {
      pass(a, "A", i, LEFT, Direction.FORWARD, 1.0 + i);
      pass(a, "A", i, LEFT, Direction.REVERSE, 9.0);
      pass(b, "B", i, RIGHT, Direction.FORWARD, 0.5 + i);
    }
    HeadToHead head = head();
    assertThat(head.common()).containsExactly(LEFT);
    Difference d = head.pairs().get(0).carriedTogether().orElseThrow();
    assertThat(d.points()).isCloseTo(0.5, within(1e-12));
    assertThat(d.standardError()).isCloseTo(0, within(1e-12));
  }

  @Test
  void whoSharesNoConditionWithTheOthersIsLeftOutAndAllStandWhereNoTwoDo() {
    List<PassEvidence> c = new ArrayList<>();
    pass(a, "A", 0, LOOP, Direction.FORWARD, 1);
    pass(b, "B", 0, LOOP, Direction.FORWARD, 2);
    pass(c, "C", 0, OTHER, Direction.FORWARD, 3);
    Entrant first = new Entrant(new Release(1, "A", "1.0"), a);
    Entrant second = new Entrant(new Release(2, "B", "1.0"), b);
    Entrant third = new Entrant(new Release(3, "C", "1.0"), c);
    assertThat(Beside.sharing(List.of(first, second))).containsExactly(first, second);
    assertThat(Beside.sharing(List.of(third, first, second))).containsExactly(first, second);
    assertThat(Beside.sharing(List.of(first, third))).containsExactly(first, third);
  }
}
