package milewarden.verdict.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import org.junit.jupiter.api.Test;

final class NeededTest {
  /** The design's rules with one look at 0.05, as the published tables have it. */
  private static Policy oneLook(int sessions) {
    Policy p = Policy.defaults();
    return p.withLooks(List.of(new LookPlan(sessions, 0.05, 0.90)));
  }

  /**
   * Cohen (1988), table 2.4.1, and R's pwr.t.test: two-sided 0.05, power 0.80. d = 0.5 needs 64 on
   * each side (63 give 0.795, 64 give 0.801), d = 0.8 needs 26 (25.5).
   */
  @Test
  void sessionsAgainstABaselineOfTheSameSizeAreThePublishedOnes() {
    assertThat(Needed.sessions(0.5, 1, 64, oneLook(64)).sessions()).hasValue(64);
    assertThat(Needed.sessions(0.8, 1, 26, oneLook(26)).sessions()).hasValue(26);
    // Only the ratio counts.
    assertThat(Needed.sessions(0.2, 0.4, 64, oneLook(64)).sessions()).hasValue(64);
    assertThat(Needed.sessions(0.5, 1, 64, oneLook(64)).chances().get(0))
        .isCloseTo(0.801460, within(2e-6));
  }

  /** No number of sessions makes good a baseline of three: its own spread stays. */
  @Test
  void againstTooSmallABaselineNoNumberWouldDo() {
    assertThat(Needed.sessions(0.5, 1, 3, Policy.defaults()).sessions()).isEmpty();
  }

  @Test
  void moreSessionsAndLargerChangesAreFoundMoreOften() {
    List<Needed.Sessions> rows = Needed.sessions(0.4, 8, Policy.defaults());
    assertThat(rows).hasSize(4);
    for (int i = 0; i < rows.size(); i++) {
      assertThat(rows.get(i).chances()).isSorted();
      if (i > 0)
        assertThat(rows.get(i).chances().get(2)).isGreaterThan(rows.get(i - 1).chances().get(2));
    }
  }

  /** Algebra: a step of 10 m is a quarter of 0.5 % of 8 km; 20 laps of 400 m. */
  @Test
  void theLengthThatADisplaysStepNeeds() {
    List<Needed.Course> courses = Needed.courses(10, 400, Policy.defaults());
    assertThat(courses.get(0).lengthM()).isCloseTo(8000, within(1e-9));
    assertThat(courses.get(0).laps()).isEqualTo(20);
    assertThat(courses.get(1).lengthM()).isCloseTo(4000, within(1e-9));
    assertThat(courses.get(2).laps()).isEqualTo(5);
    assertThat(Needed.courses(1, 5000, Policy.defaults()).get(0).laps()).isEqualTo(1);
  }
}
