package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import com.zaxxer.hikari.HikariDataSource;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import milewarden.store.Id.ModelId;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Models;
import milewarden.verdict.Campaign;
import milewarden.verdict.Look;
import milewarden.verdict.ModelJudgement;
import org.jdbi.v3.core.Jdbi;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Looks that decide and those beside them, as the store keeps them. */
final class LooksKeptTest {
  private static final Instant NOW = Instant.parse("2026-11-20T18:00:00Z");
  private static final String BESIDE = "select beside from look order by id";
  private static final LocalDate THEN = Campaign.FIRST.plusDays(60);

  private static final Path STEP =
      Path.of("src/main/resources/milewarden/store/V20__looks_beside.sql");

  @TempDir Path folder;

  private static ModelJudgement judgedWithALateSession() {
    Campaign c =
        new Campaign()
            .release("1.0")
            .release("1.1")
            .sessions("1.0", 0, 0.4, 0.8, 0.5, 0.7, 0.6, 0.9, 0.3, 0.6)
            .sessions("1.1", 40, 0.5, 0.7, 0.6);
    c.judgeAndKeep(THEN);
    // All is measured anew while a session arrives that began before those of the look.
    c.passes.replaceAll(p -> p.withResultId(1_000 + p.resultId()));
    c.sessions("1.1", 35, 0.9);
    return c.judgeAndKeep(THEN.plusDays(5));
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void bothOfAJudgementAreKeptAtOnce(TestStores stores) {
    ModelJudgement judged = judgedWithALateSession();
    assertThat(judged.looks()).filteredOn(Look::beside).isNotEmpty();
    try (Database database = stores.open(folder, () -> NOW)) {
      ModelId model = database.write(tx -> Models.unit(tx, "fell-2-a", "Fell 2").model());
      database.change(tx -> Judgements.put(tx, model, judged));
      List<Look> kept = database.read(tx -> Judgements.looks(tx, model));
      assertThat(kept).containsExactlyInAnyOrderElementsOf(judged.looks());
      database.change(tx -> Judgements.put(tx, model, judged));
      List<Look> again = database.read(tx -> Judgements.looks(tx, model));
      assertThat(again).isEqualTo(kept);
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void aStoreFromBeforeKeepsItsLooksInTheirOrder(TestStores stores) throws Exception {
    StoreSettings settings = stores.fresh(folder);
    List<Look> kept;
    try (Database database = Database.open(settings, () -> NOW)) {
      ModelId model = database.write(tx -> Models.unit(tx, "fell-2-a", "Fell 2").model());
      database.change(tx -> Judgements.put(tx, model, judgedWithALateSession()));
      kept = database.read(tx -> Judgements.looks(tx, model));
    }
    assertThat(kept).extracting(Look::beside).contains(true, false);
    // The step reads only what the table had before it.
    try (HikariDataSource source = Database.writing(settings)) {
      String step = Files.readString(STEP);
      for (Map.Entry<String, String> word :
          Migrations.dialect(settings.url().isPresent()).entrySet())
        step = step.replace("${" + word.getKey() + "}", word.getValue());
      String sql = step;
      Jdbi.create(source).useHandle(h -> h.createScript(sql).execute());
      List<Boolean> beside =
          Jdbi.create(source).withHandle(h -> h.createQuery(BESIDE).mapTo(Boolean.class).list());
      assertThat(beside).isEqualTo(kept.stream().map(Look::beside).toList());
    }
    try (Database database = Database.open(settings, () -> NOW)) {
      ModelId model = database.read(tx -> Models.all(tx)).get(0).id();
      List<Look> after = database.read(tx -> Judgements.looks(tx, model));
      assertThat(after).isEqualTo(kept);
    }
  }
}
