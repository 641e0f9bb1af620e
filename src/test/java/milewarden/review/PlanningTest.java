package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Database;
import milewarden.store.Models;
import milewarden.store.PlaceRows;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.verdict.Policy;
import milewarden.verdict.place.PlacedPass;
import milewarden.verdict.plan.CampaignPlan;
import milewarden.verdict.plan.CampaignPlan.Planned;
import milewarden.verdict.plan.Deviations;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

@ParameterizedClass
@EnumSource(TestStores.class)
final class PlanningTest {
  private static final Policy POLICY = Policy.defaults();

  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
    run("2.0", "before");
  }

  @AfterEach
  void close() {
    database.close();
  }

  private void run(String firmware, String session) {
    database.change(
        tx ->
            Samples.run(
                tx,
                "A1",
                firmware,
                session,
                Samples.T0,
                Samples.put(tx, Samples.course("mill-lane", "v1")),
                1.0,
                1.2));
  }

  private Models.Model model() {
    return database.read(tx -> Models.find(tx, "Model A")).orElseThrow();
  }

  private static Planning.Wish wish(String by, Gait gait) {
    return new Planning.Wish(
        "2.1",
        "2.0",
        List.of(new Planned("mill-lane", Carriage.FIXED, gait)),
        List.of(),
        CampaignPlan.Stop.AT_THE_LAST_LOOK,
        "",
        by);
  }

  private Optional<Planning.Why> plan(Planning.Wish wish) {
    return Planning.plan(database, model(), wish, POLICY)
        .fold(done -> Optional.empty(), no -> Optional.of(no.why()));
  }

  private Planning.Held held() {
    return database.read(tx -> Planning.held(tx, model().id(), "2.1", POLICY)).orElseThrow();
  }

  @Test
  void aPlanMayBeReplacedUntilTheFirstFileAndTheEarlierOnesStay() {
    assertThat(plan(wish("Ann", Gait.RUN))).isEmpty();
    now = now.plusSeconds(60);
    assertThat(plan(wish("Ben", Gait.WALK))).isEmpty();
    assertThat(held().plan().by()).isEqualTo("Ben");
    assertThat(held().plan().at()).isEqualTo(now);
    assertThat(held().earlier()).extracting(CampaignPlan::by).containsExactly("Ann");
    assertThat(held().lockedAt()).isEmpty();
  }

  @Test
  void theFirstFileLocksItAndWhatIsDoneOtherwiseIsSaid() {
    plan(wish("Ann", Gait.RUN));
    now = now.plusSeconds(60);
    run("2.1", "after");
    assertThat(held().lockedAt()).contains(now);
    assertThat(plan(wish("Ben", Gait.WALK))).contains(Planning.Why.LOCKED);
    assertThat(held().plan().by()).isEqualTo("Ann");
    // It was walked, not run.
    assertThat(held().deviations())
        .extracting(Deviations.Deviation::what)
        .containsExactly(Deviations.What.CONDITION_NOT_PLANNED, Deviations.What.CONDITION_NOT_RUN);
  }

  @Test
  void aPlanMadeAfterTheFirstFileIsRefused() {
    run("2.1", "after");
    assertThat(plan(wish("Ann", Gait.RUN))).contains(Planning.Why.LOCKED);
  }

  @Test
  void aPlanWithoutANameIsRefused() {
    assertThat(plan(wish(" ", Gait.RUN))).contains(Planning.Why.NO_NAME);
  }

  /** The store hands out the excess by place as the engine kept it. */
  @Test
  void passesComeWithTheirExcessByPlace() {
    run("2.1", "after");
    List<PlacedPass> passes =
        database.read(
            tx -> PlaceRows.of(tx, model().id(), "2.1", "2.0", milewarden.accuracy.Engine.VERSION));
    assertThat(passes).hasSize(4);
    List<Double> kept = Samples.pass(1, Samples.T0, 1.0).excessPer10m();
    assertThat(passes.get(0).excessPer10m()).hasSameSizeAs(kept);
    for (int i = 0; i < kept.size(); i++)
      // The store counts excess in steps of 0.1 mm.
      assertThat(passes.get(0).excessPer10m().get(i))
          .isCloseTo(kept.get(i), org.assertj.core.api.Assertions.within(5.1e-5));
  }
}
