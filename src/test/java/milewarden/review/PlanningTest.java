package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Database;
import milewarden.store.Models;
import milewarden.store.Plans;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.verdict.Policy;
import milewarden.verdict.plan.CampaignPlan;
import milewarden.verdict.plan.CampaignPlan.Planned;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

final class PlanningTest {
  private static final Policy POLICY = Policy.defaults();

  static List<Database> stores() {
    return TestStores.both();
  }

  private static Planning.Wish wish(String by, String baseline) {
    return new Planning.Wish(
        "2.1",
        baseline,
        List.of(new Planned("mill-lane", Carriage.FIXED, Gait.WALK)),
        List.of(),
        CampaignPlan.Stop.AT_THE_LAST_LOOK,
        "",
        by);
  }
}
