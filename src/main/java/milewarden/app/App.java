package milewarden.app;

import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.stream.Stream;
import milewarden.accuracy.Engine;
import milewarden.alert.HookSender;
import milewarden.alert.MailSender;
import milewarden.app.config.Config;
import milewarden.app.config.PolicyReader;
import milewarden.app.config.YamlFile;
import milewarden.intake.CourseFolder;
import milewarden.intake.Measuring;
import milewarden.intake.TagForm;
import milewarden.intake.TrialMeasuring;
import milewarden.intake.course.CourseDrafting;
import milewarden.intake.course.CourseEditing;
import milewarden.intake.drop.FolderIntake;
import milewarden.intake.drop.Inbox;
import milewarden.intake.drop.Trouble;
import milewarden.intake.drop.Upload;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.report.page.Fact;
import milewarden.report.page.settings.HealthLines;
import milewarden.review.CourseWatching;
import milewarden.review.DryRun;
import milewarden.review.FalseAlarms;
import milewarden.review.Publishing;
import milewarden.review.Review;
import milewarden.review.Trials;
import milewarden.schedule.Clockwork;
import milewarden.schedule.Lull;
import milewarden.store.Database;
import milewarden.store.judged.Changes;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Recomputations;
import milewarden.store.keep.Backups;
import milewarden.units.LengthUnit;
import milewarden.units.UnitChoice;
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
  // Whether today's copy of the store is there is asked this often.
  private static final Duration BACKUP_SWEEP = Duration.ofMinutes(5);
  // Whether a digest's time has come is asked this often.
  private static final Duration DIGEST_SWEEP = Duration.ofSeconds(30);
  // Stages wake each other after their commits; this finds what a crash left between them.
  private static final Duration STAGE_SWEEP = Duration.ofSeconds(5);
  // Verdicts grow old without a new run: a model is judged again when its last judgement is a day
  // old, which is asked this often, so that a sleep or another clock makes it late by no more.
  private static final Duration OUTDATED_SWEEP = Duration.ofHours(1);
  // Whether the rate of false alarms is to be measured again is asked this often.
  private static final Duration FALSE_ALARMS_SWEEP = Duration.ofHours(1);
  // Whether what the courses' pages say has to be worked out again is asked this often.
  private static final Duration GROUND_SWEEP = Duration.ofSeconds(20);
  // What nobody waits for begins this late: after a start there is work that somebody waits for.
  private static final Duration CALM_AFTER = Duration.ofMinutes(3);
  // So long it gives way to pages before each of its steps, of which there are some two thousand: a
  // tenth of a second each, it takes a twentieth of one processor from them, and ends within hours.
  private static final Duration STEP_WAITS = Duration.ofSeconds(2);
  // So long before each model that is looked at for damage: some hundred models a minute at least.
  private static final Duration MODEL_WAITS = Duration.ofMillis(500);
  private static final Duration COURSE_WAITS = Duration.ofMinutes(1);
  // A hundred times or so in a course of 200,000 passes, while a state of the store is held.
  private static final Duration ROWS_WAIT = Duration.ofMillis(200);
  private static final Duration OUTBOX_SWEEP = Duration.ofSeconds(1);
  private static final Duration WOKEN_ONLY = Duration.ofDays(1);
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

  /** Takes a folder in, judges and tells, without serving; instead of {@link #start}. */
  FolderIntake.Taken takeIn(Path folder, Consumer<Duration> pause) {
    Database database = StoreOpening.open(config, clock, parts);
    // The courses' folder as it lies there now: nobody waits for it to stand still.
    Measuring measuring = new Measuring(database, config.inbox(), config.zone(), () -> {});
    new CourseFolder(config.courses(), Duration.ZERO, database, clock, measuring::remeasure)
        .sweep();
    FolderIntake.Taken taken =
        new FolderIntake(database, measuring::work, config.inbox().standStill(), pause)
            .take(folder);
    review(database, () -> {}).run();
    deliver(database);
    return taken;
  }

  /** Measures anew what this engine hasn't, and judges; instead of {@link #start}. */
  Recomputed recompute() {
    Database database = StoreOpening.open(config, clock, parts);
    Measuring measuring = new Measuring(database, config.inbox(), config.zone(), () -> {});
    int runs = measuring.remeasure();
    boolean policy =
        database.write(tx -> Recomputations.policy(tx, config.policy(), Engine.VERSION));
    int before = database.read(tx -> DueItems.open(tx)).size();
    measuring.work();
    Review review = review(database, () -> {});
    review.markOutdated();
    review.run();
    deliver(database);
    return database.read(
        tx -> new Recomputed(runs, policy, Recomputations.pending(tx), before, DueItems.open(tx)));
  }

  /**
   * What came of measuring anew.
   *
   * @param runs that were queued
   * @param policy true where another policy was found, too
   * @param pending runs that still wait
   * @param openBefore due items that were open before
   */
  record Recomputed(
      int runs, boolean policy, int pending, int openBefore, List<DueItems.Due> open) {
    Recomputed {
      open = List.copyOf(open);
    }
  }

  private void deliver(Database database) {
    mail(database).sendDue();
    hook(database).ifPresent(HookSender::sendDue);
  }

  private MailSender mail(Database database) {
    return new MailSender(database, config.mail(), config.data().resolve("outbox"));
  }

  private Optional<HookSender> hook(Database database) {
    return config
        .hook()
        .map(
            h ->
                new HookSender(
                    database, h, config.mail().firstRetry(), config.mail().longestRetry()));
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
    Inbox inbox = works(clockwork, shared, database);
    Renderer renderer = new Renderer();
    Reading reading = new Reading(digits());
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

  /**
   * Sets the works going. Those of a station run on each, wherever a row is to be worked off: rows
   * are claimed. The sweeps that find what was left run on one station at a time.
   */
  private Inbox works(Clockwork clockwork, Clockwork shared, Database database) {
    Runnable measure = () -> clockwork.wake("measure");
    Runnable review = () -> clockwork.wake("review");
    // A batch that ended is told by the review, also where nothing was left to measure.
    Runnable taken =
        () -> {
          measure.run();
          review.run();
        };
    Inbox inbox = new Inbox(config.data(), config.inbox().standStill(), database, clock, taken);
    Measuring measuring = new Measuring(database, config.inbox(), config.zone(), review);
    // A course that is half written doesn't parse: it need not stand still for as long as a track.
    CourseFolder courses =
        new CourseFolder(
            config.courses(),
            config.inbox().poll(),
            database,
            clock,
            () -> {
              measuring.remeasure();
              measure.run();
            });
    BooleanSupplier stopping = clockwork::isStopping;
    MailSender mail = mail(database);
    Review judge = review(database, () -> wakeSenders(clockwork));
    measuring.remeasure();
    database.change(tx -> Recomputations.policy(tx, config.policy(), Engine.VERSION));
    Lull lull = new Lull(this::isAnswering, stopping);
    shared.every(
        "outdated", OUTDATED_SWEEP, () -> judge.markOutdated(() -> lull.await(MODEL_WAITS)));
    FalseAlarms alarms = new FalseAlarms(database, config.policy(), config.zone());
    shared.every(
        "false-alarms",
        CALM_AFTER,
        FALSE_ALARMS_SWEEP,
        () -> lull.inTurn(() -> alarms.keepFresh(() -> lull.await(STEP_WAITS))));
    // Each station remembers for itself.
    clockwork.every(
        "ground",
        GROUND_SWEEP,
        () ->
            lull.inTurn(
                () ->
                    CourseWatching.keepFresh(
                        database,
                        config.policy(),
                        () -> lull.await(COURSE_WAITS),
                        () -> lull.rest(ROWS_WAIT))));
    clockwork.every("courses", config.inbox().poll(), courses::sweep);
    clockwork.every("inbox", config.inbox().poll(), () -> sweep(inbox, clockwork));
    clockwork.every("measure", STAGE_SWEEP, () -> measuring.workAndLog(stopping));
    stage(clockwork, shared, "review", STAGE_SWEEP, () -> judge.run(stopping));
    shared.every("digest", DIGEST_SWEEP, judge::digest);
    stage(clockwork, shared, "outbox", OUTBOX_SWEEP, () -> mail.sendDue(stopping));
    backups.ifPresent(b -> clockwork.every("backup", BACKUP_SWEEP, () -> b.make(clock.instant())));
    hook(database)
        .ifPresent(h -> stage(clockwork, shared, "hook", OUTBOX_SWEEP, () -> h.sendDue(stopping)));
    return inbox;
  }

  private boolean isAnswering() {
    return web != null && web.isAnswering();
  }

  // A file that will have stood still before the next sweep isn't left lying until then, nor what
  // is to be told left untold.
  private void sweep(Inbox inbox, Clockwork clockwork) {
    inbox.sweep(clockwork::isStopping);
    inbox
        .untilNextLook(clock.instant())
        .filter(wait -> wait.compareTo(config.inbox().poll()) < 0)
        .ifPresent(wait -> clockwork.wakeAfter("inbox", wait));
  }

  // A stage is woken on the station that has work for it; its sweep runs on any one of them.
  private static void stage(
      Clockwork clockwork, Clockwork shared, String name, Duration sweep, Runnable work) {
    if (shared == clockwork) {
      clockwork.every(name, sweep, work);
      return;
    }
    clockwork.every(name, WOKEN_ONLY, work);
    shared.every(name, sweep, work);
  }

  private void wakeSenders(Clockwork clockwork) {
    clockwork.wake("outbox");
    if (config.hook().isPresent()) clockwork.wake("hook");
  }

  private Audience audience() {
    return new Audience(config.mail().to(), config.zone(), config.hook().isPresent());
  }

  private String leaves() {
    return config
        .mail()
        .server()
        .map(s -> "Mail leaves by " + s.host() + ", port " + s.port() + ".")
        .orElse(
            "No mail server is configured: messages are kept as files in "
                + config.data().resolve("outbox").toAbsolutePath().normalize()
                + ".");
  }

  private Review review(Database database, Runnable wakeOutbox) {
    return new Review(
        database,
        config.policy(),
        config.zone(),
        digits(),
        config.publicUrl().map(App::withoutSlash),
        audience(),
        wakeOutbox);
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
        new MailDesk(audience(), leaves(), () -> wakeSenders(clockwork)),
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
        digits(),
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

  private Digits digits() {
    return digits(config);
  }

  static Digits digits(Config config) {
    UnitChoice units = config.units() == LengthUnit.MILE ? UnitChoice.IMPERIAL : UnitChoice.METRIC;
    return Digits.of(units, config.locale(), config.zone());
  }

  private static String withoutSlash(URI address) {
    String text = address.toString();
    return text.endsWith("/") ? text.substring(0, text.length() - 1) : text;
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
