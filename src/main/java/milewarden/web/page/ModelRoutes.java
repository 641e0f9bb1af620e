package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.device.Rounding;
import milewarden.report.page.model.ComparisonPage;
import milewarden.report.page.model.CusumChart;
import milewarden.report.page.model.ModelPage;
import milewarden.report.page.model.ModelSessionsPage;
import milewarden.report.page.model.OriginPart;
import milewarden.report.page.model.UnreadModelPage;
import milewarden.review.DisplayRules;
import milewarden.review.Origins;
import milewarden.review.Planning;
import milewarden.store.Id.FileId;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.run.Models;
import milewarden.track.TagName;
import milewarden.verdict.Comparison;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;
import milewarden.web.Frame;
import milewarden.web.PageData;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** A model's page and its comparisons. */
final class ModelRoutes implements Routes {
  private static final int AT_ONCE = 200;

  private final Desk desk;

  ModelRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/models/{id}", this::model);
    config.routes.get("/models/{id}/sessions", this::sessions);
    config.routes.get("/models/{id}/compare", this::comparison);
    config.routes.post("/models/{id}/display", this::display);
  }

  private void model(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    new UnreadModel(desk).instead(http, id, UnreadModelPage.Asked.MODEL, () -> model(http, id));
  }

  private void model(Context http, ModelId id) {
    // A program is given all that there is.
    boolean all = PageData.isAsked(http);
    ModelPage page = desk.database().read(tx -> page(tx, id, all));
    Map<String, Object> charts = new HashMap<>();
    charts.put("model", page.chart().drawn());
    page.ladders().ifPresent(l -> charts.put("ladders", l));
    for (CusumChart c : page.cusums()) charts.put(c.key(), c.drawn());
    desk.renderer().show(http, "model", Frame.of(page.name(), "/"), page, charts);
  }

  private ModelPage page(Tx tx, ModelId id, boolean all) {
    ModelExcerpt excerpt = all ? ModelExcerpt.whole(judged(tx, id)) : excerpt(tx, id);
    List<DueItems.Due> due = DueEntries.sorted(DueItems.open(tx, id));
    return ModelPage.of(
        id.value(),
        excerpt,
        isControl(tx, id),
        Marks.stopped(tx).contains(id),
        Origins.ladders(tx, id),
        desk.policy(),
        DueEntries.of(due.stream(), desk.digits()),
        VerdictRoutes.lines(tx, id, Optional.of(excerpt.judged()), desk.digits()),
        displays(tx, id),
        desk.digits());
  }

  private List<ModelPage.DisplayLine> displays(Tx tx, ModelId id) {
    return DisplayRules.of(tx, id).stream()
        .map(
            d ->
                ModelPage.DisplayLine.of(
                    id.value(), d.stepM(), d.found(), d.unknown().size(), desk.digits()))
        .toList();
  }

  /** Tells the recordings of a display whose rule is not known what was found, by the tester. */
  private void display(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    Rounding rounding =
        Rounding.of(Sent.text(http, "rounding"))
            .orElseThrow(() -> new BadRequestResponse("The form lacks its rounding."));
    String step = Sent.text(http, "step");
    List<FileId> files =
        desk.database()
            .read(
                tx ->
                    DisplayRules.of(tx, id).stream()
                        .filter(d -> Double.toString(d.stepM()).equals(step))
                        .flatMap(d -> d.unknown().stream())
                        .toList());
    if (files.isEmpty()) throw Sent.missing("recording whose rule is not known");
    desk.tags().apply(files, Map.of(TagName.ROUNDING, rounding.code()));
    http.redirect("/models/" + id.value());
  }

  private static boolean isControl(Tx tx, ModelId id) {
    List<Models.Unit> units = Models.units(tx, id);
    return !units.isEmpty() && units.stream().allMatch(Models.Unit::control);
  }

  private static ModelJudgement judged(Tx tx, ModelId id) {
    return Judgements.find(tx, id).orElseThrow(() -> Sent.missing("model"));
  }

  private static ModelExcerpt excerpt(Tx tx, ModelId id) {
    return Judgements.excerpt(tx, id).orElseThrow(() -> Sent.missing("model"));
  }

  private void sessions(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    new UnreadModel(desk).instead(http, id, UnreadModelPage.Asked.MODEL, () -> sessions(http, id));
  }

  private void sessions(Context http, ModelId id) {
    boolean all = PageData.isAsked(http);
    long from = all ? 0 : Sent.parse(Sent.text(http, "from")).orElse(0L);
    ModelSessionsPage page =
        ModelSessionsPage.of(
            id.value(),
            desk.database().read(tx -> judged(tx, id)),
            (int) Math.max(0, Math.min(Integer.MAX_VALUE, from)),
            all ? Integer.MAX_VALUE : AT_ONCE,
            desk.digits());
    desk.renderer().show(http, "modelsessions", Frame.of(page.name() + ", sessions", "/"), page);
  }

  private void comparison(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    String candidate = Sent.text(http, "candidate");
    String baseline = Sent.text(http, "baseline");
    new UnreadModel(desk)
        .instead(
            http,
            id,
            UnreadModelPage.Asked.COMPARISON,
            "",
            c -> c.candidate().equals(candidate) && c.baseline().equals(baseline),
            () -> comparison(http, id, candidate, baseline));
  }

  private void comparison(Context http, ModelId id, String candidate, String baseline) {
    ComparisonPage page = desk.database().read(tx -> comparison(tx, id, candidate, baseline));
    Map<String, Object> charts = new HashMap<>();
    charts.put("forest", page.forest());
    for (OriginPart part : page.origins()) charts.put(part.key(), part.strip());
    desk.renderer().show(http, "compare", Frame.of(page.title(), "/"), page, charts);
  }

  private ComparisonPage comparison(Tx tx, ModelId id, String candidate, String baseline) {
    ModelJudgement judged = excerpt(tx, id).judged();
    Comparison found =
        judged.comparisons().stream()
            .filter(c -> c.candidate().equals(candidate) && c.baseline().equals(baseline))
            .findFirst()
            .orElseThrow(() -> Sent.missing("comparison"));
    return ComparisonPage.of(
        id.value(),
        judged.model(),
        found,
        Models.find(tx, id).flatMap(m -> Origins.told(tx, m, found, desk.policy())),
        Origins.of(tx, id, found, desk.policy()),
        judged.smoothingOf(candidate),
        Planning.held(tx, id, candidate, desk.policy())
            .map(held -> PlanRoutes.part(held, desk.digits())),
        desk.policy(),
        desk.digits());
  }
}
