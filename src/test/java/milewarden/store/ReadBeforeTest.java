package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import milewarden.report.Judged;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Models;
import milewarden.verdict.ModelJudgement;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A judgement that was read before is given again, and never one that is no longer stored. */
final class ReadBeforeTest {
  // The clock stands still: two judgements of one model have the same time.
  private static final Instant NOW = Instant.parse("2026-11-20T18:00:00Z");

  @TempDir Path folder;

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatIsStoredNowIsReadAlsoByOneClockTick(TestStores stores) {
    ModelJudgement first = Judged.model();
    try (Database database = stores.open(folder, () -> NOW)) {
      Id.ModelId model = database.write(tx -> Models.unit(tx, "fell-2-a", "Fell 2").model());
      database.change(tx -> Judgements.put(tx, model, first));
      ModelJudgement once = read(database, model);
      assertThat(once.engineVersion()).isEqualTo(first.engineVersion());
      assertThat(read(database, model)).as("the same one again").isSameAs(once);
      assertThat(excerpt(database, model).releases()).hasSameSizeAs(first.releases());
      assertThat(excerpt(database, model)).as("kept, too").isSameAs(excerpt(database, model));
      ModelJudgement second =
          new ModelJudgement(
              first.model(),
              first.judgedAt(),
              "another",
              first.releases(),
              first.anchor(),
              first.comparisons(),
              first.suspects(),
              first.monitoring(),
              first.due(),
              first.verdict());
      database.change(tx -> Judgements.put(tx, model, second));
      assertThat(read(database, model).engineVersion()).isEqualTo("another");
      assertThat(excerpt(database, model).engineVersion()).isEqualTo("another");
      Map<Id.ModelId, ModelJudgement> all = database.read(tx -> Judgements.all(tx));
      assertThat(all.get(model).engineVersion()).isEqualTo("another");
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void whatWasReadableIsDamagedOnceItsTextIs(TestStores stores) {
    try (Database database = stores.open(folder, () -> NOW)) {
      Id.ModelId model = database.write(tx -> Models.unit(tx, "fell-2-a", "Fell 2").model());
      assertThat(isReadable(database, model)).as("none").isTrue();
      database.change(tx -> Judgements.put(tx, model, Judged.model()));
      assertThat(isReadable(database, model)).isTrue();
      assertThat(isReadable(database, model)).as("asked again").isTrue();
      // A judgement in JSON, without its releases.
      damage(database, "{}");
      assertThat(isReadable(database, model)).isFalse();
      assertThat(isReadable(database, model)).as("asked again").isFalse();
      damage(database, Json.write(Judged.model()));
      assertThat(isReadable(database, model)).isTrue();
    }
  }

  private static void damage(Database database, String text) {
    database.change(
        tx -> tx.update("update judgement set judgement = :text").bind("text", text).execute());
  }

  private static boolean isReadable(Database database, Id.ModelId model) {
    return database.read(tx -> Judgements.isReadable(tx, model));
  }

  private static ModelJudgement excerpt(Database database, Id.ModelId model) {
    return database.read(tx -> Judgements.excerpt(tx, model)).orElseThrow().judged();
  }

  private static ModelJudgement read(Database database, Id.ModelId model) {
    return database.read(tx -> Judgements.find(tx, model)).orElseThrow();
  }
}
