package milewarden.verdict.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.verdict.Campaign;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.CampaignPlan.Planned;
import milewarden.verdict.CampaignPlan.Stop;
import milewarden.verdict.Comparison;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PlanOnRecord.Deviation;
import milewarden.verdict.PlanOnRecord.What;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;

final class DeviationsTest {
  private static final double[] BEFORE = {0.31, 0.12, 0.27, 0.44, 0.05, 0.38, 0.21, 0.19};

  private static CampaignPlan plan(Stop stop, List<String> units) {
    Policy policy = Policy.defaults();
    return new CampaignPlan(
        "Alder",
        "1.1",
        "1.0",
        List.of(Planned.of(Campaign.LOOP)),
        units,
        policy.looks(),
        policy.materialChangePercent(),
        stop,
        "",
        "Tester",
        Campaign.at(Campaign.FIRST));
  }

  private static List<Deviation> found(CampaignPlan plan, Campaign c, Policy policy) {
    List<Deviations.Spoken> verdicts =
        c.verdicts.stream()
            .map(ModelHistory.VerdictOnRecord::verdict)
            .filter(v -> v.firmware().equals("1.1"))
            .map(Deviations.Spoken::of)
            .toList();
    // As it stood before the new verdict made the candidate the anchor.
    Optional<Comparison> comparison =
        c.judge().comparisons().stream().filter(x -> x.candidate().equals("1.1")).findFirst();
    return Deviations.of(plan, c.history().passesOf("1.1"), comparison, verdicts, policy);
  }

  private static List<What> whats(CampaignPlan plan, Campaign c) {
    return found(plan, c, c.policy).stream().map(Deviation::what).toList();
  }

  private static Campaign campaign() {
    return new Campaign().release("1.0").sessions("1.0", 0, BEFORE).release("1.1");
  }

  @Test
  void whatWasPlannedAndDoneIsNoDeviation() {
    Campaign c = campaign().sessions("1.1", 40, BEFORE);
    assertThat(whats(plan(Stop.AT_THE_LAST_LOOK, List.of("unit-a")), c)).isEmpty();
  }

  @Test
  void beforeTheFirstRunNothingIsMissing() {
    assertThat(whats(plan(Stop.AT_THE_LAST_LOOK, List.of("unit-b")), campaign())).isEmpty();
  }

  @Test
  void conditionsAndUnitsThatDifferAreNamed() {
    Campaign c = campaign();
    for (int day = 40; day < 43; day++)
      c.track("1.1", day, Campaign.SWING, "unit-c", Direction.FORWARD, 0.2);
    List<Deviation> found = found(plan(Stop.AT_THE_LAST_LOOK, List.of("unit-a")), c, c.policy);
    assertThat(found)
        .extracting(Deviation::what)
        .containsExactly(
            What.CONDITION_NOT_PLANNED,
            What.CONDITION_NOT_RUN,
            What.UNIT_NOT_PLANNED,
            What.UNIT_NOT_RUN);
    assertThat(found.get(0).count()).isEqualTo(3);
    assertThat(found.get(0).condition().orElseThrow().carriage()).isEqualTo(Carriage.SWING_LEFT);
    assertThat(found.get(3).name()).isEqualTo("unit-a");
  }

  @Test
  void rulesThatWereChangedSinceAreSaid() {
    Campaign c = campaign().sessions("1.1", 40, BEFORE);
    Policy now = c.policy.withLooks(c.policy.looks().subList(0, 2));
    assertThat(found(plan(Stop.AT_THE_LAST_LOOK, List.of()), c, now))
        .extracting(Deviation::what)
        .containsExactly(What.OTHER_LOOKS);
  }

  @Test
  void aVerdictBeforeTheEndIsSaidUnlessThePlanAllowedIt() {
    Campaign c = campaign();
    double[] worse = new double[6];
    for (int i = 0; i < 6; i++) worse[i] = BEFORE[i] + 3;
    c.sessions("1.1", 40, worse);
    c.judgeAndKeep(Campaign.FIRST.plusDays(50));
    Comparison before =
        c.judge().comparisons().stream()
            .filter(x -> x.candidate().equals("1.1"))
            .findFirst()
            .orElseThrow();
    c.publish("1.1", Campaign.FIRST.plusDays(60));
    List<Deviations.Spoken> verdicts = List.of(Deviations.Spoken.of(c.verdicts.get(0).verdict()));
    assertThat(
            Deviations.of(
                plan(Stop.AT_THE_LAST_LOOK, List.of()),
                c.history().passesOf("1.1"),
                Optional.of(before),
                verdicts,
                c.policy))
        .extracting(Deviation::what)
        .containsExactly(What.STOPPED_EARLY);
    Comparison taken = c.judge().comparisons().isEmpty() ? before : before;
    assertThat(
            Deviations.of(
                plan(Stop.WHEN_SETTLED, List.of()),
                c.history().passesOf("1.1"),
                Optional.of(takenBefore(taken, c)),
                verdicts,
                c.policy))
        .isEmpty();
  }

  /** The comparison whose looks were taken before the verdict was published. */
  private static Comparison takenBefore(Comparison c, Campaign campaign) {
    assertThat(c.looks())
        .allMatch(l -> !l.takenAt().isAfter(campaign.verdicts.get(0).verdict().publishedAt()));
    return c;
  }

  @Test
  void sessionsBeyondTheLastLookAreCounted() {
    Campaign c = campaign();
    double[] x = new double[14];
    for (int i = 0; i < 14; i++) x[i] = BEFORE[i % 8];
    c.sessions("1.1", 40, x);
    List<Deviation> found = found(plan(Stop.AT_THE_LAST_LOOK, List.of()), c, c.policy);
    assertThat(found).extracting(Deviation::what).containsExactly(What.MORE_SESSIONS);
    assertThat(found.get(0).count()).isEqualTo(2);
  }
}
