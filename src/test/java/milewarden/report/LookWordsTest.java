package milewarden.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.model.ModelPage;
import milewarden.units.UnitChoice;
import milewarden.verdict.Arrivals;
import milewarden.verdict.Campaign;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Look;
import milewarden.verdict.ReleaseJudgement;
import org.junit.jupiter.api.Test;

/**
 * What is said of looks: taken, waiting, taken again, and as late sessions would have made them.
 */
final class LookWordsTest {
  private static final Instant CAME = Campaign.at(Campaign.FIRST.plusDays(60));
  private final Digits digits = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);

  private static Campaign campaign() {
    Campaign c = new Campaign().release("1.0").release("1.1");
    return c.sessions("1.0", 0, 0.4, 0.8, 0.5, 0.7, 0.6, 0.9, 0.3, 0.6)
        .sessions("1.1", 40, 0.5, 0.7, 0.6);
  }

  private static Comparison at(Campaign c, Instant now) {
    return Campaign.comparison(c.judgeAndKeep(now), "1.1", Against.ANCHOR);
  }

  private static Arrivals came(String session, Instant at) {
    return new Arrivals(Map.of(session, at), Set.of(), false);
  }

  @Test
  void aLookThatWaitsSaysForWhatAndUntilWhen() {
    Campaign c = campaign();
    c.arrivals = came("day-42", CAME);
    Comparison waiting = at(c, CAME.plusSeconds(60));
    // The campaign's sixtieth day is 6 March 2026; it came at 07:00, and a look waits for an hour.
    assertThat(plain(LookWords.waits(waiting, digits)))
        .isEqualTo(
            "The look at 3 sessions of 1.1 waits until nothing of its sessions has come in for a"
                + " while, by what is here now until 6 Mar 2026, 08:00; until then the state"
                + " holds.");
    assertThat(JudgedWords.of(waiting.because()))
        .isEqualTo("more files of the sessions of the first look may still come in");
  }

  @Test
  void aReleaseWhoseSessionIsStillComingInSaysSo() {
    Campaign c = campaign();
    c.arrivals = came("day-42", CAME);
    ReleaseJudgement waiting = c.judge(CAME.plusSeconds(60)).release("1.1").orElseThrow();
    assertThat(ReleaseWords.waiting(waiting, digits).map(LookWordsTest::plain))
        .contains("decisions wait for the rest of the session until 6 Mar 2026, 08:00");
    assertThat(ReleaseWords.decidedLater(waiting)).isTrue();
    assertThat(ModelPage.purposes(waiting))
        .singleElement()
        .satisfies(p -> assertThat(p.decision().word()).contains("waiting for the rest"));
    ReleaseJudgement then = c.judge(CAME.plus(Duration.ofHours(1))).release("1.1").orElseThrow();
    assertThat(ReleaseWords.waiting(then, digits)).isEmpty();
    assertThat(ModelPage.purposes(then)).hasSizeGreaterThan(1);
  }

  @Test
  void aLookWhoseEvidenceChangesIsNoNextLook() {
    Campaign c = campaign();
    at(c, CAME);
    c.track("1.1", 42, Campaign.LOOP, "unit-a", milewarden.course.Direction.FORWARD, 0.9);
    c.arrivals = came("day-42", CAME.plus(Duration.ofDays(1)));
    Comparison waiting = at(c, CAME.plus(Duration.ofDays(1)).plusSeconds(60));
    assertThat(plain(LookWords.waits(waiting, digits)))
        .startsWith("A look at 1.1 whose evidence changed waits until nothing of its sessions");
  }

  @Test
  void aReLookAndOneBesideAreSetOffFromTheFirst() {
    Campaign c = campaign();
    at(c, CAME);
    c.track("1.1", 42, Campaign.LOOP, "unit-a", milewarden.course.Direction.FORWARD, 0.9);
    at(c, CAME.plus(Duration.ofDays(1)));
    c.sessions("1.1", 30, 0.6);
    List<Look> looks = at(c, CAME.plus(Duration.ofDays(2))).looks();
    assertThat(looks.stream().map(JudgedWords::again))
        .containsExactly(
            "", ", re-look", ", as late sessions would have made it; it decides nothing");
  }

  @Test
  void everyReasonStandsAfterBecause() {
    assertThat(Arrays.stream(Comparison.Because.values()).map(JudgedWords::of))
        .doesNotHaveDuplicates()
        .allSatisfy(words -> assertThat(words).matches("[a-z].*[a-z]"));
  }

  private static String plain(String words) {
    return words.replace('\u00a0', ' ');
  }
}
