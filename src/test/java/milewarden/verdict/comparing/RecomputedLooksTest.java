package milewarden.verdict.comparing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.OptionalDouble;
import milewarden.accuracy.Errors;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Look;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.VerdictState;
import org.junit.jupiter.api.Test;

/** A new engine computes new results beside the old ones: looks that were taken stay readable. */
final class RecomputedLooksTest {
  private static final double[] BEFORE = {0.4, 0.8, 0.5, 0.7, 0.6, 0.9, 0.3, 0.6};
  private static final LocalDate THEN = Campaign.FIRST.plusDays(60);
  private static final LocalDate LATER = THEN.plusDays(90);
  private static final long ANEW = 1_000;

  private static Campaign campaign() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    return c.sessions("1.0", 0, BEFORE).sessions("1.1", 40, 0.5, 0.7, 0.6);
  }

  /** All passes as new results, the later release's by so much more. */
  private static void computeAnew(Campaign c, double more) {
    c.passes.replaceAll(
        p -> moved(p.withResultId(ANEW + p.resultId()), p.firmware().equals("1.1") ? more : 0));
  }

  private static PassEvidence moved(PassEvidence p, double by) {
    return new PassEvidence(
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
        new Errors(
            OptionalDouble.of(p.errors().trackPercent().orElseThrow() + by),
            p.errors().recordedPercent(),
            p.errors().shownAsReadPercent(),
            p.errors().shownPercent()),
        p.referenceM(),
        p.referenceStandardUncertaintyPercent(),
        p.displayStepM(),
        p.exclusion());
  }

  private static List<Look> looks(ModelJudgement judged) {
    return Campaign.comparison(judged, "1.1", Against.ANCHOR).looks();
  }

  @Test
  void theLookIsTakenAnewOnTheSameSessionsAndTheOldOneStays() {
    Campaign c = campaign();
    Look old = looks(c.judgeAndKeep(THEN)).get(0);
    computeAnew(c, 0);
    ModelJudgement judged = c.judgeAndKeep(LATER);
    assertThat(looks(judged)).hasSize(2).startsWith(old);
    Look anew = looks(judged).get(1);
    assertThat(anew.reLook()).isTrue();
    assertThat(anew.beside()).isFalse();
    assertThat(anew.takenAt()).isEqualTo(Campaign.at(LATER));
    assertThat(anew.drawn()).isEqualTo(old.drawn());
    // The same results by other numbers: the same word.
    assertThat(anew.outcome()).isEqualTo(old.outcome());
    assertThat(anew.estimate()).isEqualTo(old.estimate());
    assertThat(anew.candidateResults()).allMatch(id -> id > ANEW);
    // Judged once more, nothing is added.
    assertThat(looks(c.judgeAndKeep(LATER.plusDays(1)))).hasSize(2);
  }

  @Test
  void aSessionThatCameLateIsShownBesideInTheSameJudgement() {
    Campaign c = campaign();
    c.judgeAndKeep(THEN);
    computeAnew(c, 0);
    // It began before the three of the look, which keeps them.
    c.sessions("1.1", 35, 0.9);
    List<Look> looks = looks(c.judgeAndKeep(LATER));
    assertThat(looks).extracting(Look::beside).containsExactly(false, false, true);
    assertThat(looks.get(1).drawn()).isEqualTo(looks.get(0).drawn());
    assertThat(looks.get(2).drawn().orElseThrow().candidate()).contains("day-35").hasSize(3);
    assertThat(looks.get(2).takenAt()).isEqualTo(looks.get(1).takenAt());
    // Judged once more, nothing is added.
    assertThat(looks(c.judgeAndKeep(LATER.plusDays(1)))).isEqualTo(looks);
  }

  @Test
  void resultsThatMovedDecideAndWhatWasSaidStaysBeside() {
    Campaign c = campaign();
    Look old = looks(c.judgeAndKeep(THEN)).get(0);
    assertThat(old.outcome()).isNotEqualTo(Outcome.WORSE);
    computeAnew(c, 3);
    ModelJudgement judged = c.judgeAndKeep(LATER);
    assertThat(looks(judged).get(0)).isEqualTo(old);
    Look anew = looks(judged).get(1);
    // A shift by 3 moves the difference of the means by 3: algebra.
    assertThat(anew.estimate().percent()).isCloseTo(old.estimate().percent() + 3, within(1e-9));
    assertThat(Campaign.comparison(judged, "1.1", Against.ANCHOR).outcome())
        .isEqualTo(Outcome.WORSE);
  }

  @Test
  void aPublishedVerdictStandsWhereNothingMoved() {
    Campaign c = campaign();
    c.publish("1.0", THEN);
    c.judgeAndKeep(THEN);
    VerdictState before = c.judge(THEN).verdict().orElseThrow().state();
    computeAnew(c, 0);
    assertThat(c.judge(THEN).verdict().orElseThrow().state()).isEqualTo(before);
    assertThat(c.judge(THEN).due())
        .noneMatch(d -> d.cause() == milewarden.verdict.DueItem.Cause.ENGINE_MOVED_RESULTS);
  }
}
