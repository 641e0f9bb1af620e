package milewarden.app;

import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.accuracy.Engine;
import milewarden.app.config.Config;
import milewarden.app.config.PolicyReader;
import milewarden.app.config.YamlFile;
import milewarden.intake.TagForm;
import milewarden.intake.TrialMeasuring;
import milewarden.intake.course.CourseDrafting;
import milewarden.intake.course.CourseEditing;
import milewarden.intake.drop.Inbox;
import milewarden.intake.drop.Trouble;
import milewarden.intake.drop.Upload;
import milewarden.report.page.Fact;
import milewarden.report.page.settings.HealthLines;
import milewarden.review.DryRun;
import milewarden.review.Publishing;
import milewarden.review.Trials;
import milewarden.schedule.Clockwork;
import milewarden.store.Database;
import milewarden.store.judged.Changes;
import milewarden.store.keep.Backups;
import milewarden.web.Live;
import milewarden.web.Reading;
import milewarden.web.Renderer;
import milewarden.web.Routes;
import milewarden.web.WebServer;
import milewarden.web.WebSettings;
import milewarden.web.api.Api;
import milewarden.web.desk.Desk;
import milewarden.web.desk.MailDesk;
import milewarden.web.door.Door;
import milewarden.web.door.DoorRoutes;
import milewarden.web.page.Pages;
import milewarden.web.page.ReportRoutes;
import org.jspecify.annotations.Nullable;

/** Everything wired together; closes in reverse order. */
public final class App implements AutoCloseable {
  // An eye takes what comes within a second as at once; counts cost little.
  private static final Duration LIVE_SWEEP = Duration.ofMillis(500);

  private final Config config;
  private final InstantSource clock;
  private final Extra extra;
  private final Optional<Backups> backups;
  private final Parts parts = new Parts();
  private @Nullable WebServer web;

  public App(Config config, InstantSource clock) {
    this(config, clock, (renderer, database, reading) -> List.of());
  }

  /**
   * @param extra pages beside the usual ones
   */
  App(Config config, InstantSource clock, Extra extra) {
    this.config = config;
    this.clock = clock;
    this.extra = extra;
    this.backups = config.backups().map(settings -> new Backups(config.store(), settings));
  }

  /** Pages that only one command shows. */
  @FunctionalInterface
  interface Extra {
    List<Routes> routes(Renderer renderer, Database database, Reading reading);
  }

  /** Starts everything; what was started is closed again where a later part fails. */
  public App start() {
    try {
      wire();
      return this;
    } catch (RuntimeException | Error e) {
      close();
      throw e;
    }
  }

  private void wire() {
    Database database = StoreOpening.open(config, clock, parts);
    WebSettings settings = new WebSettings(config.address(), config.port(), config.publicUrl());
    Door.refusal(database, settings)
        .ifPresent(
            why -> {
              throw new IllegalStateException(why);
            });
    Clockwork clockwork = parts.keep(new Clockwork(clock));
    // One for all stations; a file has one server, whose own clockwork does everything.
    Clockwork shared =
        database
            .forScheduler()
            .map(source -> parts.keep(Clockwork.shared(source, database.station(), clock)))
            .orElse(clockwork);
    Inbox inbox =
        new Works(config, clock, database, backups, clockwork, shared, this::isAnswering).start();
    Renderer renderer = new Renderer();
    Reading reading = new Reading(ReaderDigits.of(config));
    List<Routes> routes = new ArrayList<>();
    Door door = new Door(database, settings, config.door(), clock);
    routes.add(door);
    routes.add(new DoorRoutes(renderer, database, door));
    routes.addAll(extra.routes(renderer, database, reading));
    Upload upload = upload(clockwork, database, inbox);
    Desk desk = desk(clockwork, renderer, reading, database, inbox, upload);
    routes.add(new Pages(desk));
    if (config.publicVerdicts()) routes.add(ReportRoutes.forPublic(desk));
    routes.add(api(database, inbox, upload, desk.tags()));
    Live live = new Live(() -> database.read(Changes::trace));
    routes.add(live);
    clockwork.every("live", LIVE_SWEEP, live::look);
    web = parts.keep(WebServer.start(settings, renderer, routes));
    parts.keep(live);
    clockwork.start();
    if (shared != clockwork) shared.start();
  }

  private boolean isAnswering() {
    return web != null && web.isAnswering();
  }

  private static Upload upload(Clockwork clockwork, Database database, Inbox inbox) {
    return new Upload(
        database,
        () -> {
          inbox.cameOtherwise();
          clockwork.wake("measure");
        });
  }

  private Desk desk(
      Clockwork clockwork,
      Renderer renderer,
      Reading reading,
      Database database,
      Inbox inbox,
      Upload upload) {
    Telling telling = new Telling(config, database);
    return new Desk(
        renderer,
        database,
        config.policy(),
        reading,
        Engine.VERSION,
        config.data().resolve("inbox").toAbsolutePath().normalize().toString(),
        config.courses().toAbsolutePath().normalize().toString(),
        upload,
        new TagForm(database, () -> clockwork.wake("measure")),
        new Publishing(database, config.policy(), config.zone(), () -> clockwork.wake("review")),
        new Trials(dryRun(database)),
        (text, problems) -> PolicyReader.read(YamlFile.parse("policy.yaml", text), problems),
        new CourseDrafting(config.courses(), () -> clockwork.wake("courses")),
        new CourseEditing(config.courses(), clock, config.zone(), () -> clockwork.wake("courses")),
        () -> troubles(inbox),
        new MailDesk(telling.audience(), telling.leaves(), () -> telling.wakeSenders(clockwork)),
        about(database));
  }

  private DryRun dryRun(Database database) {
    return new DryRun(
        database,
        config.policy(),
        config.zone(),
        new TrialMeasuring(database, config.inbox(), config.zone())::measure);
  }

  private List<Fact> about(Database database) {
    return List.of(
        new Fact("method", "version " + Engine.VERSION, "results name it"),
        new Fact("store", database.where(), ""),
        new Fact("data", config.data().toAbsolutePath().normalize().toString(), ""),
        new Fact("zone", zone(), "local dates of sessions"));
  }

  // "Z" is a code of timestamps, and no name that a reader knows.
  private String zone() {
    String id = config.zone().getId();
    return id.equals("Z") ? "UTC" : id;
  }

  private Api api(Database database, Inbox inbox, Upload upload, TagForm tags) {
    return new Api(
        database,
        ReaderDigits.of(config),
        Engine.VERSION,
        config.policy(),
        config.publicUrl(),
        (name, bytes, said) -> upload.take(name, bytes, said).file(),
        tags,
        () ->
            HealthLines.publicly(
                inbox.troubles().size(), backups.flatMap(Backups::trouble).isPresent()));
  }

  private List<String> troubles(Inbox inbox) {
    return Stream.concat(
            inbox.troubles().stream().map(Trouble::sentence),
            backups.flatMap(Backups::trouble).stream())
        .toList();
  }

  /** Every route by method and path; only after the start. */
  List<String> routes() {
    if (web == null) throw new IllegalStateException("not started");
    return web.routes();
  }

  /** The dashboard's port; only after the start. */
  public int port() {
    if (web == null) throw new IllegalStateException("not started");
    return web.port();
  }

  @Override
  public synchronized void close() {
    parts.close();
  }
}
