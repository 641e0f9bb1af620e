package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import milewarden.report.Digits;
import milewarden.report.page.overview.OverviewOrder;
import milewarden.report.page.overview.OverviewPage;
import milewarden.store.Id.ModelId;
import milewarden.store.judged.JudgedBriefly;
import milewarden.store.judged.Judgements;
import milewarden.store.run.Models;
import milewarden.units.UnitChoice;
import milewarden.verdict.Campaign;
import milewarden.verdict.Findings;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A judgement in brief says what the whole one says, and is as new. */
final class JudgedBrieflyTest {
  private static final Instant NOW = Instant.parse("2026-11-20T18:00:00Z");
  private static final Digits DIGITS = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);
  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir Path folder;

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void itSaysWhatTheWholeOneSays(TestStores stores) throws Exception {
    ModelJudgement whole =
        new Campaign()
            .release("1.0")
            .release("1.1")
            .sessions("1.0", 0, 1.1, 0.9, 1.2, 0.8, 1.0, 1.1, 0.9, 1.0, 1.2, 0.8, 1.1, 1.0)
            .sessions("1.1", 20, 2.1, 1.9, 2.2, 1.8, 2.0, 2.1, 1.9, 2.0, 2.2, 1.8, 2.1, 2.0)
            .judge();
    StoreSettings settings = stores.fresh(folder);
    try (Database database = Database.open(settings, () -> NOW)) {
      ModelId model = database.write(tx -> Models.unit(tx, "fell-2-a", "Fell 2").model());
      database.change(tx -> Judgements.put(tx, model, whole));
      ModelBrief brief = read(database).get(model);
      assertThat(whole.releases()).anyMatch(r -> !r.sessions().isEmpty());
      assertThat(whole.comparisons()).anyMatch(c -> !c.looks().isEmpty());
      assertPart(JSON.readTree(Json.write(brief)), JSON.readTree(Json.write(whole)), "");
      assertThat(page(brief)).isEqualTo(page(whole));
      // Of the whole text, as in a store of an earlier version, it is the same.
      database.change(tx -> tx.update("update judgement set brief_at = null").execute());
      try (Database again = Database.open(settings, () -> NOW)) {
        assertThat(read(again).get(model)).isEqualTo(brief);
      }

      assertThat(read(database).get(model)).as("the same one again").isSameAs(brief);
      ModelJudgement renamed =
          new ModelJudgement(
              "Fell 2, later",
              whole.judgedAt(),
              whole.engineVersion(),
              whole.releases(),
              whole.anchor(),
              whole.comparisons(),
              whole.suspects(),
              whole.monitoring(),
              whole.due(),
              whole.verdict());
      database.change(tx -> Judgements.put(tx, model, renamed));
      assertThat(read(database).get(model).model()).isEqualTo("Fell 2, later");
    }
  }

  private static Map<ModelId, ModelBrief> read(Database database) {
    List<ModelId> unread = new ArrayList<>();
    Map<ModelId, ModelBrief> all = database.read(tx -> JudgedBriefly.readable(tx, unread));
    assertThat(unread).isEmpty();
    return all;
  }

  private static OverviewPage page(Findings judged) {
    return OverviewPage.of(
        Map.of(1L, judged),
        Set.of(),
        List.of(),
        List.of(),
        0,
        0,
        0,
        OverviewOrder.USUAL,
        Policy.defaults(),
        DIGITS);
  }

  private static void assertPart(JsonNode part, JsonNode of, String at) {
    assertThat(part.getNodeType()).as(at).isEqualTo(of.getNodeType());
    if (part.isArray()) {
      assertThat(part.size()).as(at).isEqualTo(of.size());
      for (int i = 0; i < part.size(); i++) assertPart(part.get(i), of.get(i), at + "/" + i);
    } else if (part.isObject()) {
      part.properties()
          .forEach(e -> assertPart(e.getValue(), of.path(e.getKey()), at + "/" + e.getKey()));
    } else {
      assertThat(part).as(at).isEqualTo(of);
    }
  }
}
