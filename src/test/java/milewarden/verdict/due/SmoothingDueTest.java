package milewarden.verdict.due;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;
import milewarden.report.AdviceWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.units.UnitChoice;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.SmoothingLag;
import milewarden.verdict.VerdictState;
import milewarden.verdict.judging.Judge;
import org.junit.jupiter.api.Test;

/** A release whose filter changed, while its distance may be as before. */
final class SmoothingDueTest {
  private static final double[] ERRORS = {0.31, 0.12, 0.27, 0.44, 0.05, 0.38, 0.21, 0.19};
  private static final double[] LAGS = {2.1, 1.7, 2.4, 2.0, 1.9, 2.2, 1.8, 2.3};
  private static final LocalDate LATER = Campaign.FIRST.plusDays(60);

  private static double[] errors(double shift) {
    return IntStream.range(0, 12).mapToDouble(i -> ERRORS[i % 8] + shift).toArray();
  }

  /** A verdict on 1.0, then 1.1 with this much more error and lag. */
  private static Campaign campaign(double error) {
    return new Campaign()
        .release("1.0")
        .sessions("1.0", 0, ERRORS)
        .publish("1.0", Campaign.FIRST.plusDays(20))
        .release("1.1")
        .sessions("1.1", 40, errors(error));
  }

  private static ModelJudgement judge(Campaign campaign, double lag) {
    Map<Long, SmoothingLag> lags = new HashMap<>();
    for (PassEvidence p : campaign.passes) {
      double s = LAGS[(int) (p.resultId() % 8)] + (p.firmware().equals("1.1") ? lag : 0);
      lags.put(p.resultId(), new SmoothingLag(s, s - 1, s + 1));
    }
    return Judge.judge(
        campaign.history().withLags(lags), campaign.policy, Campaign.at(LATER), Campaign.ZONE);
  }

  private static List<Cause> causes(ModelJudgement judged) {
    return judged.due().stream().map(DueItem::cause).toList();
  }

  @Test
  void anotherFilterAsksForALookThoughTheDistanceIsAsBefore() {
    ModelJudgement judged = judge(campaign(0), 2);
    assertThat(causes(judged)).containsExactly(Cause.SMOOTHING_CHANGED);
    DueItem due = judged.due().get(0);
    assertThat(due.kind()).isEqualTo(DueItem.Kind.RETEST_DUE);
    assertThat(due.severity()).isEqualTo(DueItem.Severity.HOUSEKEEPING);
    assertThat(due.facts().smoothing().orElseThrow().distance()).hasValue(Outcome.EQUIVALENT);
    assertThat(judged.verdict().orElseThrow().state()).isEqualTo(VerdictState.RETEST_DUE);
  }

  @Test
  void itsWordsSayHowMuchBesideWhatAndWhatToDo() {
    DueItem due = judge(campaign(0), 2).due().get(0);
    Digits digits = Digits.of(UnitChoice.METRIC, Locale.UK, Campaign.ZONE);
    assertThat(DueWords.title(due, digits).replace('\u00a0', ' '))
        .startsWith(
            "Alder firmware 1.1 smooths its positions more than 1.0: a lag of 4.0 s, was 2");
    assertThat(DueWords.sentence(due, digits).replace('\u00a0', ' '))
        .startsWith(
            "Firmware 1.1 of Alder smooths its positions more than firmware 1.0: in bends a lag of ")
        .contains(" (a change of +2.0 s, 95 %: +")
        .endsWith("on 12 against 8 sessions); the distance has not changed.");
    assertThat(AdviceWords.of(due, digits))
        .first()
        .asString()
        .startsWith("Look at its tracks in bends");
    assertThat(String.join(" ", AdviceWords.of(due, digits))).contains("tighter bends");
  }

  @Test
  void theSameFilterAsksForNothing() {
    ModelJudgement judged = judge(campaign(0), 0);
    assertThat(judged.due()).isEmpty();
    assertThat(judged.smoothingOf("1.1").orElseThrow().changed()).isFalse();
  }

  @Test
  void whereTheDistanceChangedTooThatIsTold() {
    ModelJudgement judged = judge(campaign(2), 2);
    assertThat(causes(judged)).contains(Cause.COMPARISON_WORSE);
    assertThat(causes(judged)).doesNotContain(Cause.SMOOTHING_CHANGED);
    assertThat(judged.smoothingOf("1.1").orElseThrow().changed()).isTrue();
  }

  @Test
  void aVerdictOnTheReleaseClosesIt() {
    Campaign campaign = campaign(0);
    campaign.publish("1.1", LATER.minusDays(1));
    assertThat(causes(judge(campaign, 2))).doesNotContain(Cause.SMOOTHING_CHANGED);
  }

  @Test
  void withoutLagsTheJudgementIsAsItWas() {
    Campaign campaign = campaign(0);
    ModelJudgement judged = campaign.judge(LATER);
    assertThat(judged.smoothing()).isEmpty();
    assertThat(judged.comparisons()).isEqualTo(judge(campaign, 2).comparisons());
    assertThat(judged.releases()).isEqualTo(judge(campaign, 2).releases());
  }
}
