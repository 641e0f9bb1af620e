package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.report.page.Links;
import milewarden.report.page.model.ModelPage;
import milewarden.report.page.model.UnreadModelPage;
import milewarden.report.page.verdict.VerdictDraftPage;
import milewarden.report.page.verdict.VerdictPage;
import milewarden.report.page.verdict.VerdictsPage;
import milewarden.review.Planning;
import milewarden.review.Publishing;
import milewarden.review.Reporting;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.JudgedBriefly;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Models;
import milewarden.verdict.Findings;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.VerdictState;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** What was said in public, and the drafting of what is said next. */
final class VerdictRoutes implements Routes {
  private static final String HERE = "/verdicts";

  private final Desk desk;

  VerdictRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, this::verdicts);
    config.routes.get(HERE + "/draft", http -> draft(http, ""));
    config.routes.post(HERE, this::publish);
    config.routes.get(HERE + "/{model}/{number}", http -> verdict(http, ""));
    config.routes.get(HERE + "/{model}/{number}/capsule.zip", this::capsule);
    config.routes.post(HERE + "/{model}/{number}/withdraw", this::withdraw);
  }

  private void verdicts(Context http) {
    Choice<VerdictState> state = Choice.of(http, "state", VerdictState.class);
    VerdictsPage page = desk.database().read(tx -> page(tx, state));
    desk.renderer().show(http, "verdicts", Frame.of("Verdicts", HERE), page);
  }

  private VerdictsPage page(Tx tx, Choice<VerdictState> state) {
    List<VerdictsPage.ModelVerdicts> models = new ArrayList<>();
    List<VerdictsPage.DraftLink> drafts = new ArrayList<>();
    List<ModelId> unread = new ArrayList<>();
    JudgedBriefly.readable(tx, unread)
        .forEach(
            (id, judged) -> {
              add(models, tx, id, judged.model(), Optional.of(judged));
              VerdictsPage.draft(id.value(), judged).ifPresent(drafts::add);
            });
    List<String> damaged = new ArrayList<>();
    for (ModelId id : unread) {
      String name = Models.find(tx, id).map(Models.Model::name).orElse("model " + id);
      damaged.add(name);
      add(models, tx, id, name, Optional.empty());
    }
    List<Status> states =
        models.stream().flatMap(m -> m.verdicts().stream()).map(v -> v.state()).toList();
    return VerdictsPage.of(
            models,
            state.links(
                HERE,
                Arrays.stream(VerdictState.values())
                    .filter(s -> states.contains(JudgedWords.of(s)))
                    .toList(),
                s -> counted(JudgedWords.of(s), states)),
            state.chosen().map(JudgedWords::of),
            drafts,
            damaged,
            desk.digits())
        .without(damaged(tx));
  }

  private static List<String> damaged(Tx tx) {
    List<Verdicts.Line> unread = new ArrayList<>();
    Verdicts.readable(tx, unread);
    return unread.stream().map(Verdicts.Line::named).toList();
  }

  private void add(
      List<VerdictsPage.ModelVerdicts> models,
      Tx tx,
      ModelId id,
      String name,
      Optional<? extends Findings> judged) {
    List<ModelPage.VerdictLine> lines = lines(tx, id, judged, desk.digits());
    if (!lines.isEmpty())
      models.add(new VerdictsPage.ModelVerdicts(name, Links.model(id.value()), lines));
  }

  private String counted(Status state, List<Status> of) {
    return state.word() + " " + desk.digits().count(of.stream().filter(state::equals).count());
  }

  /** A model's verdicts, newest first. */
  static List<ModelPage.VerdictLine> lines(
      Tx tx, ModelId id, Optional<? extends Findings> judged, Digits digits) {
    List<ModelPage.VerdictLine> lines = new ArrayList<>();
    for (Verdicts.Line v : Verdicts.lines(tx, id))
      lines.add(
          0,
          new ModelPage.VerdictLine(
              Links.verdict(id.value(), v.number()),
              "verdict " + v.number(),
              v.firmware(),
              digits.date(v.publishedAt()),
              JudgedWords.of(state(v, judged)),
              v.words()));
    return lines;
  }

  private static VerdictState state(Verdicts.Line v, Optional<? extends Findings> judged) {
    return VerdictPage.state(
        v.withdrawn().isPresent(),
        !v.superseded(),
        judged.flatMap(Findings::verdict).map(ModelJudgement.VerdictNow::state));
  }

  private void draft(Context http, String refusal) {
    ModelId id = new ModelId(Sent.number(http, "model"));
    new UnreadModel(desk)
        .instead(
            http,
            id,
            UnreadModelPage.Asked.DRAFT,
            Sent.text(http, "words"),
            c -> true,
            () -> draft(http, id, refusal));
  }

  private void draft(Context http, ModelId id, String refusal) {
    String firmware = Sent.text(http, "firmware");
    ModelBrief judged =
        desk.database()
            .read(tx -> JudgedBriefly.find(tx, id))
            .orElseThrow(() -> Sent.missing("model"));
    ModelBrief.Release release =
        judged.release(firmware).orElseThrow(() -> Sent.missing("release of this model"));
    VerdictDraftPage page =
        VerdictDraftPage.of(
            id.value(),
            judged,
            release,
            desk.policy(),
            Sent.text(http, "words"),
            refusal.isEmpty()
                ? desk.database().read(tx -> Publishing.impediment(tx, id)).orElse("")
                : refusal,
            desk.database()
                .read(tx -> Planning.drafted(tx, id, release, desk.policy()))
                .map(held -> PlanRoutes.part(held, desk.digits())),
            desk.digits());
    desk.renderer().show(http, "draft", Frame.of(page.sentence(), HERE), page);
  }

  private void publish(Context http) {
    ModelId id = new ModelId(Sent.number(http, "model"));
    Optional<PublishedVerdict.Reason> reason =
        Arrays.stream(PublishedVerdict.Reason.values())
            .filter(r -> r.name().equals(Sent.text(http, "reason")))
            .findFirst();
    desk.publishing()
        .publish(
            id,
            Sent.text(http, "firmware"),
            Sent.text(http, "words"),
            reason,
            Sent.text(http, "by"))
        .fold(
            done -> {
              http.redirect(Links.verdict(id.value(), done.number()));
              return true;
            },
            refused -> {
              draft(http, refused.sentence());
              return false;
            });
  }

  private void verdict(Context http, String refusal) {
    VerdictPage page =
        desk.database()
            .read(
                tx -> {
                  Verdicts.OnRecord v = Published.verdict(tx, http);
                  return VerdictPage.of(
                      v.model().value(),
                      v.verdict(),
                      Reporting.fate(tx, v),
                      desk.policy(),
                      refusal,
                      desk.digits());
                });
    desk.renderer().show(http, "verdict", Frame.of(page.model() + ", verdict", HERE), page);
  }

  private void capsule(Context http) {
    Published.capsule(desk.database(), http);
    http.header(
        "Content-Disposition",
        "attachment; filename=\"verdict-"
            + Sent.part(http, "model")
            + "-"
            + Sent.part(http, "number")
            + ".zip\"");
  }

  private void withdraw(Context http) {
    Verdicts.OnRecord v = desk.database().read(tx -> Published.verdict(tx, http));
    String words = Sent.text(http, "words");
    String by = Sent.text(http, "by");
    if (by.isEmpty()) throw new BadRequestResponse("Say who withdraws it.");
    desk.publishing()
        .withdraw(v.id(), words, by)
        .fold(
            done -> {
              http.redirect(Links.verdict(v.model().value(), v.verdict().number()));
              return true;
            },
            refused -> {
              verdict(http, refused.sentence());
              return false;
            });
  }
}
