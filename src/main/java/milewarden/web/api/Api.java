package milewarden.web.api;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import milewarden.course.CourseSlug;
import milewarden.intake.TagForm;
import milewarden.intake.convert.TrackTarget;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.answer.DueAnswer;
import milewarden.store.ChangeRecord;
import milewarden.store.Database;
import milewarden.store.Id.RunId;
import milewarden.store.Id.SessionId;
import milewarden.store.Id.VerdictId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Courses;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.store.told.Outbox;
import milewarden.verdict.Policy;
import milewarden.web.Routes;
import milewarden.web.api.Rows.CourseRow;
import milewarden.web.api.Rows.FirmwareRow;
import milewarden.web.api.Rows.ModelRow;
import milewarden.web.api.Rows.ResultRow;
import milewarden.web.api.Rows.RunRow;
import milewarden.web.api.Rows.SessionRow;
import milewarden.web.api.Rows.UnitRow;
import milewarden.web.api.SaidRows.AlertRow;
import milewarden.web.api.SaidRows.VerdictRow;

/** The JSON API under {@code /api/v1}, described by its openapi.json; health and metrics. */
public final class Api implements Routes {
  private static final String V1 = "/api/v1";
  private static final String DESCRIPTION = "/milewarden/openapi.json";

  private final Database database;
  private final Digits digits;
  private final String engineVersion;
  private final Tracks tracks;
  private final Health health;
  private final Handling handling;
  private final News news;
  private final Comparisons comparisons;

  /**
   * @param engineVersion whose results are given
   * @param policy by which verdicts grow stale
   * @param publicUrl the address in links to pages; the one that was asked where empty
   * @param drop where sent recordings go
   * @param tags takes tags of recordings that came in
   * @param troubles sentences about what does not work now, for the health; empty where all does
   */
  public Api(
      Database database,
      Digits digits,
      String engineVersion,
      Policy policy,
      Optional<URI> publicUrl,
      TrackDrop drop,
      TagForm tags,
      Supplier<List<String>> troubles) {
    this.database = database;
    this.digits = digits;
    this.engineVersion = engineVersion;
    this.tracks = new Tracks(database, drop, tags, digits.zone());
    this.health = new Health(database, troubles);
    this.handling = new Handling(database);
    this.news = new News(database, digits, policy, publicUrl);
    this.comparisons = new Comparisons(database);
  }

  @Override
  public void add(JavalinConfig config) {
    var routes = config.routes;
    routes.get("/health", health::health);
    routes.get("/metrics", health::metrics);
    routes.get(V1 + "/openapi.json", Api::description);
    routes.get(V1 + "/courses", this::courses);
    routes.get(V1 + "/courses/{slug}", this::course);
    routes.get(V1 + "/models", http -> list(http, tx -> map(Models.all(tx), ModelRow::of)));
    routes.get(V1 + "/units", http -> list(http, tx -> map(Models.units(tx), UnitRow::of)));
    routes.get(V1 + "/firmware", http -> list(http, tx -> map(Firmware.all(tx), FirmwareRow::of)));
    routes.get(V1 + "/sessions", this::sessions);
    routes.get(V1 + "/sessions/{id}", this::session);
    routes.get(V1 + "/runs", this::runs);
    routes.get(V1 + "/runs/{id}", this::run);
    routes.get(V1 + "/runs/{id}/results", http -> list(http, tx -> resultsOf(tx, http)));
    routes.get(V1 + "/results", this::results);
    routes.get(V1 + "/due", http -> list(http, this::due));
    routes.get(V1 + "/comparisons", comparisons::list);
    routes.get(V1 + "/verdicts", this::verdicts);
    routes.get(V1 + "/verdicts/{id}", this::verdict);
    routes.get(V1 + "/alerts", this::alerts);
    handling.add(config, V1);
    news.add(config, V1);
    routes.get(V1 + "/changes", this::changes);
    routes.post(V1 + "/tracks", tracks::take);
    routes.get(V1 + "/tracks/received", tracks::allReceived);
    routes.get(V1 + "/tracks/received/{id}", tracks::received);
    routes.patch(V1 + "/tracks/received/{id}/tags", tracks::tag);
    routes.get(V1 + "/tracks/{sha256}", tracks::original);
    for (TrackTarget target : TrackTarget.values())
      routes.get(
          V1 + "/tracks/{sha256}/" + target.ending(), http -> tracks.converted(http, target));
  }

  private static void description(Context http) {
    try (InputStream in = Api.class.getResourceAsStream(DESCRIPTION)) {
      if (in == null) throw new IllegalStateException(DESCRIPTION + " is not in the program");
      http.result(in.readAllBytes());
      http.contentType("application/json");
    } catch (IOException e) {
      throw new UncheckedIOException(DESCRIPTION, e);
    }
  }

  /** A list that is short enough to be read whole. */
  private <T> void list(Context http, Function<Tx, List<T>> all) {
    Slice slice = Slice.of(http);
    Answers.json(http, Listing.of(database.read(all::apply), slice));
  }

  private static <A, B> List<B> map(List<A> rows, Function<A, B> each) {
    return rows.stream().map(each).toList();
  }

  private void courses(Context http) {
    Slice slice = Slice.of(http);
    List<String> unread = new ArrayList<>();
    List<CourseRow> rows = map(database.read(tx -> Courses.readable(tx, unread)), CourseRow::of);
    Answers.json(http, Listing.of(rows, slice).without(map(unread, DamageWords::course)));
  }

  private void verdicts(Context http) {
    Slice slice = Slice.of(http);
    List<Verdicts.Line> unread = new ArrayList<>();
    List<VerdictRow> rows = map(database.read(tx -> Verdicts.readable(tx, unread)), VerdictRow::of);
    Answers.json(
        http, Listing.of(rows, slice).without(map(unread, v -> DamageWords.verdicts(v.named()))));
  }

  private void course(Context http) {
    String slug = http.pathParam("slug");
    if (!CourseSlug.isValid(slug)) throw new NotFoundResponse("There is no such course.");
    Answers.json(
        http,
        found(
            database.read(tx -> Courses.find(tx, new CourseSlug(slug)).map(CourseRow::of)),
            "course"));
  }

  private void sessions(Context http) {
    Slice slice = Slice.of(http);
    Answers.json(
        http,
        Listing.ofOneMore(
                database.read(tx -> Sessions.page(tx, slice.limit() + 1, slice.offset())), slice)
            .map(SessionRow::of));
  }

  private void session(Context http) {
    SessionId id = new SessionId(Ids.of(http, "id"));
    Answers.json(
        http, found(database.read(tx -> Sessions.find(tx, id).map(SessionRow::of)), "session"));
  }

  private void runs(Context http) {
    Slice slice = Slice.of(http);
    Answers.json(
        http,
        Listing.ofOneMore(
                database.read(tx -> Runs.page(tx, slice.limit() + 1, slice.offset())), slice)
            .map(RunRow::of));
  }

  private void run(Context http) {
    RunId id = new RunId(Ids.of(http, "id"));
    Answers.json(http, found(database.read(tx -> Runs.find(tx, id).map(RunRow::of)), "run"));
  }

  private List<ResultRow> resultsOf(Tx tx, Context http) {
    RunId id = new RunId(Ids.of(http, "id"));
    found(Runs.find(tx, id), "run");
    return map(Results.ofRun(tx, id, engineVersion), ResultRow::of);
  }

  /** All passes of {@code limit} runs: a run is never cut in two. */
  private void results(Context http) {
    Slice slice = Slice.of(http);
    List<ResultRow> rows =
        database.read(
            tx ->
                map(Results.page(tx, engineVersion, slice.limit(), slice.offset()), ResultRow::of));
    int runs = database.read(tx -> Runs.count(tx));
    boolean more = slice.offset() + slice.limit() < runs;
    Answers.json(http, new Listing<>(rows, more ? Optional.of(slice.next()) : Optional.empty()));
  }

  private List<DueAnswer> due(Tx tx) {
    return map(
        DueItems.open(tx),
        d -> DueAnswer.of(d.id().value(), d.item(), d.raisedAt(), d.whole(), digits));
  }

  private void verdict(Context http) {
    VerdictId id = new VerdictId(Ids.of(http, "id"));
    Answers.json(
        http, found(database.read(tx -> Verdicts.find(tx, id).map(VerdictRow::of)), "verdict"));
  }

  private void alerts(Context http) {
    Slice slice = Slice.of(http);
    Answers.json(
        http,
        Listing.of(
                database.read(
                    tx -> Outbox.page(tx, Optional.empty(), slice.offset() + slice.limit() + 1)),
                slice)
            .map(m -> database.read(tx -> AlertRow.of(m, Outbox.items(tx, m.id())))));
  }

  private void changes(Context http) {
    Slice slice = Slice.of(http);
    Answers.json(
        http,
        Listing.ofOneMore(
                database.read(tx -> ChangeRecord.page(tx, slice.limit() + 1, slice.offset())),
                slice)
            .map(ChangeRow::of));
  }

  private static <T> T found(Optional<T> one, String what) {
    return one.orElseThrow(() -> new NotFoundResponse("There is no such " + what + "."));
  }
}
