package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.CarriedAlong;
import milewarden.intake.TagForm;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.page.Links;
import milewarden.report.page.run.PositionsPart;
import milewarden.report.page.run.RunFacts;
import milewarden.report.page.run.RunPage;
import milewarden.store.Id.FileId;
import milewarden.store.Id.ResultId;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.Tags;
import milewarden.store.run.Courses;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.verdict.PassEvidence.Exclusion;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** A run and its tags. */
final class RunRoutes implements Routes {
  // What a tester changes on a run; the rest of the field sheet belongs to the sheet.
  /** Tags of one matter, as the form has them. */
  private record Matter(String title, List<TagName> names) {}

  private static final List<Matter> EDITABLE =
      List.of(
          new Matter(
              "The device",
              List.of(
                  TagName.UNIT,
                  TagName.MODEL,
                  TagName.FIRMWARE,
                  TagName.BATTERY,
                  TagName.CONTROL,
                  TagName.ROLE)),
          new Matter(
              "The pass",
              List.of(
                  TagName.SESSION,
                  TagName.COURSE,
                  TagName.DIRECTION,
                  TagName.LAPS,
                  TagName.GAIT,
                  TagName.CARRIAGE,
                  TagName.SLOT,
                  TagName.OPERATOR,
                  TagName.WEATHER)),
          new Matter(
              "Start and end",
              List.of(
                  TagName.BOUNDS,
                  TagName.START_PROTOCOL,
                  TagName.FIX_WAIT_S,
                  TagName.STANDING_S,
                  TagName.INTERVAL,
                  TagName.BAND)),
          new Matter(
              "What the display said",
              List.of(TagName.SHOWN, TagName.SHOWN_UNIT, TagName.SHOWN_STEP, TagName.ROUNDING)),
          new Matter(
              "Answers to what was asked",
              List.of(TagName.SETTINGS_CHECK, TagName.CLOCK, TagName.COLUMNS)),
          new Matter("Remarks", List.of(TagName.EXCLUDED_REASON, TagName.NOTES)));

  private final Desk desk;

  RunRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/runs/{id}", this::run);
    config.routes.post("/runs/{id}/tags", this::edit);
    config.routes.get("/results/{id}", this::result);
  }

  private void run(Context http) {
    show(http, List.of());
  }

  private void show(Context http, List<String> problems) {
    RunId id = new RunId(Sent.part(http, "id"));
    int pass = Sent.parse(Sent.text(http, "pass")).orElse(1L).intValue();
    RunPage page = desk.database().read(tx -> page(tx, id, pass, problems));
    desk.renderer()
        .show(http, "run", Frame.of(page.facts().unit() + ", run", "/"), page, charts(page));
  }

  private static Map<String, Object> charts(RunPage page) {
    Map<String, Object> charts = new LinkedHashMap<>();
    page.ladder().ifPresent(l -> charts.put("ladder", l.chart()));
    page.along()
        .ifPresent(
            a -> {
              charts.put("excess", a.excess());
              charts.put("places", a.places());
              charts.put("offset", a.offset());
              charts.put("speed", a.speed());
              charts.put("plan", a.plan());
            });
    List<PositionsPart> positions = page.facts().positions();
    for (int i = 0; i < positions.size(); i++)
      charts.put("positions-" + i, positions.get(i).chart());
    return charts;
  }

  private RunPage page(Tx tx, RunId id, int pass, List<String> problems) {
    Runs.Run run = Runs.find(tx, id).orElseThrow(() -> Sent.missing("run"));
    List<Results.Summary> passes = Results.ofRun(tx, id, desk.engineVersion());
    Optional<Results.Summary> shown =
        passes.stream().filter(p -> p.pass() == pass).findFirst().or(() -> first(passes));
    RunFacts facts = facts(tx, run, pass, shown, problems);
    Optional<Results.Measured> whole;
    try {
      whole = Results.find(tx, id);
    } catch (Unreadable e) {
      return shown
          .map(
              r ->
                  RunPage.figuresOnly(
                      facts, r.errors(), r.distances(), DamageWords.run(), desk.digits()))
          .orElseThrow(() -> e);
    }
    if (whole.isPresent())
      return RunPage.of(
          facts,
          whole.get().measurement(),
          Courses.version(tx, whole.get().courseSlug(), whole.get().courseVersion())
              .orElseThrow()
              .course(),
          desk.digits());
    Results.Summary row = shown.orElseThrow(() -> Sent.missing("measured run"));
    return RunPage.shownOnly(facts, row.errors(), row.distances(), desk.digits());
  }

  private static Optional<Results.Summary> first(List<Results.Summary> passes) {
    return passes.stream().findFirst();
  }

  private RunFacts facts(
      Tx tx, Runs.Run run, int pass, Optional<Results.Summary> shown, List<String> problems) {
    Optional<ReceivedFiles.Received> file = run.file().flatMap(f -> ReceivedFiles.find(tx, f));
    String course = run.facts().course();
    return new RunFacts(
        run.id().value(),
        pass,
        run.modelName(),
        Links.model(run.model().value()),
        run.unitName(),
        run.firmware(),
        course,
        Links.course(course),
        run.sessionName(),
        Links.session(run.sessionName()),
        desk.digits().moment(run.facts().startedAt()),
        file.map(ReceivedFiles.Received::path),
        "/api/v1/tracks/" + file.map(ReceivedFiles.Received::sha256).orElse(""),
        file.map(f -> tags(tx, f.id())).orElse(List.of()),
        shown
            .flatMap(Results.Summary::exclusion)
            .map(x -> excluded(x, desk.digits()))
            .or(() -> held(run)),
        CarriedAlong.of(tx, run, desk.digits()),
        problems);
  }

  static String excluded(Exclusion x, Digits digits) {
    String reason = x.reason().name().toLowerCase(Locale.ROOT).replace('_', ' ');
    return "Left out as "
        + reason
        + (x.by().isBlank() ? "" : " by " + x.by())
        + " on "
        + digits.date(x.at())
        + (x.words().isBlank() ? "." : ": " + x.words());
  }

  static Optional<String> held(Runs.Run run) {
    return run.heldFor()
        .map(
            other ->
                other.equals(run.id())
                    ? "It is the reference track of its session, no run of a device."
                    : "It may be the same recording as run "
                        + other.value()
                        + " of this unit: their times overlap. It is held, and counts nothing twice.");
  }

  private static List<RunFacts.TagGroup> tags(Tx tx, FileId file) {
    Map<TagName, Tags.Tag> known = Tags.winners(Tags.of(tx, file), Tags.WHOLE);
    return EDITABLE.stream()
        .map(
            matter ->
                new RunFacts.TagGroup(
                    matter.title(),
                    matter.names().stream()
                        .map(name -> tag(tx, name, Optional.ofNullable(known.get(name))))
                        .toList()))
        .toList();
  }

  private static RunFacts.Tag tag(Tx tx, TagName name, Optional<Tags.Tag> tag) {
    String value = tag.map(Tags.Tag::value).orElse("");
    return new RunFacts.Tag(
        name.code(),
        Words.of(name),
        value,
        tag.map(t -> Words.of(t.source())).orElse(""),
        TagChoices.with(tx, name, value));
  }

  /** Only what was changed becomes an edit: the rest keeps its source. */
  private void edit(Context http) {
    RunId id = new RunId(Sent.part(http, "id"));
    FileId file =
        desk.database()
            .read(tx -> Runs.find(tx, id).flatMap(Runs.Run::file))
            .orElseThrow(() -> Sent.missing("recording"));
    Map<TagName, String> changed = desk.database().read(tx -> changed(tx, http, file));
    List<TagForm.Problem> problems =
        changed.isEmpty() ? List.of() : desk.tags().apply(List.of(file), changed);
    if (problems.isEmpty()) http.redirect(Links.run(id.value()));
    else show(http, problems.stream().map(TagForm.Problem::sentence).toList());
  }

  private static Map<TagName, String> changed(Tx tx, Context http, FileId file) {
    Map<TagName, String> changed = new EnumMap<>(TagName.class);
    List<RunFacts.Tag> tags = tags(tx, file).stream().flatMap(g -> g.tags().stream()).toList();
    for (RunFacts.Tag tag : tags) {
      String said = Sent.text(http, tag.name());
      boolean sent = http.formParam(tag.name()) != null;
      if (sent && !said.equals(tag.value()))
        TagName.of(tag.name()).ifPresent(name -> changed.put(name, said));
    }
    return changed;
  }

  private void result(Context http) {
    ResultId id = new ResultId(Sent.part(http, "id"));
    Results.PassOf of =
        desk.database()
            .read(tx -> Results.passOf(tx, id))
            .orElseThrow(() -> Sent.missing("result"));
    http.redirect(Links.run(of.run().value()) + "?pass=" + of.pass());
  }
}
