package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import milewarden.report.page.ComparisonPage;
import milewarden.report.page.ModelPage;
import milewarden.store.DueItems;
import milewarden.store.Id.ModelId;
import milewarden.store.Judgements;
import milewarden.store.Models;
import milewarden.store.Tx;
import milewarden.verdict.Comparison;
import milewarden.verdict.ModelJudgement;
import milewarden.web.Frame;
import milewarden.web.Routes;

/** A model's page and its comparisons. */
final class ModelRoutes implements Routes {
  private final Desk desk;

  ModelRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/models/{id}", this::model);
    config.routes.get("/models/{id}/compare", this::comparison);
  }

  private void model(Context http) {
    ModelPage page = desk.database().read(tx -> page(tx, new ModelId(Sent.part(http, "id"))));
    desk.renderer()
        .show(http, "model", Frame.of(page.name(), "/"), page, Map.of("model", page.chart()));
  }

  private ModelPage page(Tx tx, ModelId id) {
    ModelJudgement judged = judged(tx, id);
    List<DueItems.Due> due = DueEntries.sorted(DueItems.open(tx, id));
    return ModelPage.of(
        id.value(),
        judged,
        isControl(tx, id),
        desk.policy(),
        DueEntries.of(due.stream(), desk.digits()),
        VerdictRoutes.lines(tx, id, judged, desk.digits()),
        desk.digits());
  }

  private static boolean isControl(Tx tx, ModelId id) {
    List<Models.Unit> units = Models.units(tx, id);
    return !units.isEmpty() && units.stream().allMatch(Models.Unit::control);
  }

  private static ModelJudgement judged(Tx tx, ModelId id) {
    return Judgements.find(tx, id).orElseThrow(() -> Sent.missing("model"));
  }

  private void comparison(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    ModelJudgement judged = desk.database().read(tx -> judged(tx, id));
    String candidate = Sent.text(http, "candidate");
    String baseline = Sent.text(http, "baseline");
    Comparison found =
        judged.comparisons().stream()
            .filter(c -> c.candidate().equals(candidate) && c.baseline().equals(baseline))
            .findFirst()
            .orElseThrow(() -> Sent.missing("comparison"));
    ComparisonPage page =
        ComparisonPage.of(id.value(), judged.model(), found, desk.policy(), desk.digits());
    desk.renderer()
        .show(http, "compare", Frame.of(page.title(), "/"), page, Map.of("forest", page.forest()));
  }
}
