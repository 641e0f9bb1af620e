package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.report.Digits;
import milewarden.report.page.Links;
import milewarden.report.page.model.UnreadModelPage;
import milewarden.report.page.verdict.PlanPage;
import milewarden.review.Planning;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.Plans;
import milewarden.store.run.Models;
import milewarden.verdict.CampaignPlan;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Before a campaign: how much it needs, and the plan that its first file locks. */
final class PlanRoutes implements Routes {
  private final Desk desk;

  PlanRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/models/{id}/plan", http -> show(http, Optional.empty(), ""));
    config.routes.post("/models/{id}/plan", this::plan);
  }

  private void show(Context http, Optional<PlanPage.Entered> entered, String refusal) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    unread(http, id, () -> show(http, id, entered, refusal));
  }

  private void unread(Context http, ModelId id, Runnable page) {
    new UnreadModel(desk)
        .instead(http, id, UnreadModelPage.Asked.PLAN, Sent.text(http, "words"), c -> true, page);
  }

  private void show(Context http, ModelId id, Optional<PlanPage.Entered> entered, String refusal) {
    PlanPage page = desk.database().read(tx -> page(tx, model(tx, id), entered, refusal));
    desk.renderer().show(http, "plan", Frame.of(page.model() + ", plan", "/"), page);
  }

  private static Models.Model model(Tx tx, ModelId id) {
    return Models.find(tx, id).orElseThrow(() -> Sent.missing("model"));
  }

  private PlanPage page(
      Tx tx, Models.Model model, Optional<PlanPage.Entered> entered, String refusal) {
    Planning.Basis b = Planning.basis(tx, model);
    return PlanPage.of(
        model.id().value(),
        model.name(),
        new PlanPage.Known(
            b.baseline(),
            b.sdPercent(),
            b.sessions(),
            b.conditions(),
            b.units(),
            b.stepM(),
            b.courses()),
        parts(tx, model.id()),
        entered,
        refusal,
        desk.policy(),
        desk.digits());
  }

  private List<PlanPage.PlanPart> parts(Tx tx, ModelId id) {
    Set<String> releases = new LinkedHashSet<>();
    for (CampaignPlan plan : Plans.of(tx, id)) releases.add(plan.firmware());
    List<PlanPage.PlanPart> parts = new ArrayList<>();
    for (String firmware : releases)
      Planning.held(tx, id, firmware, desk.policy())
          .ifPresent(held -> parts.add(0, part(held, desk.digits())));
    return parts;
  }

  static PlanPage.PlanPart part(Planning.Held held, Digits digits) {
    return PlanPage.part(held.now(), held.earlier(), digits);
  }

  private void plan(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    unread(http, id, () -> plan(http, id));
  }

  private void plan(Context http, ModelId id) {
    Models.Model model = desk.database().read(tx -> model(tx, id));
    Planning.Basis basis = desk.database().read(tx -> Planning.basis(tx, model));
    List<CampaignPlan.Planned> conditions = new ArrayList<>();
    for (int i = 0; i < basis.conditions().size(); i++)
      if (http.formParams("condition").contains(String.valueOf(i)))
        conditions.add(basis.conditions().get(i));
    CampaignPlan.Stop stop =
        Arrays.stream(CampaignPlan.Stop.values())
            .filter(s -> s.name().equals(Sent.text(http, "stop")))
            .findFirst()
            .orElse(CampaignPlan.Stop.WHEN_SETTLED);
    Planning.plan(
            desk.database(),
            model,
            new Planning.Wish(
                Sent.text(http, "firmware"),
                basis.baseline().orElse(""),
                conditions,
                http.formParams("unit"),
                stop,
                Sent.text(http, "words"),
                Sent.text(http, "by")),
            desk.policy())
        .fold(
            planned -> {
              http.redirect(Links.plan(id.value()));
              return true;
            },
            refused -> {
              show(http, Optional.of(entered(http)), refused.sentence(desk.digits()));
              return false;
            });
  }

  private static PlanPage.Entered entered(Context http) {
    return new PlanPage.Entered(
        Sent.text(http, "firmware"),
        Sent.text(http, "by"),
        Sent.text(http, "words"),
        Sent.text(http, "stop"),
        http.formParams("condition"),
        http.formParams("unit"));
  }
}
