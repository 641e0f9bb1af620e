package milewarden.app;

import java.time.Duration;
import java.time.InstantSource;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import milewarden.accuracy.Engine;
import milewarden.alert.MailSender;
import milewarden.app.config.Config;
import milewarden.intake.CourseFolder;
import milewarden.intake.Measuring;
import milewarden.intake.drop.Inbox;
import milewarden.review.CourseWatching;
import milewarden.review.FalseAlarms;
import milewarden.review.Review;
import milewarden.schedule.Clockwork;
import milewarden.schedule.Lull;
import milewarden.store.Database;
import milewarden.store.judged.Recomputations;
import milewarden.store.keep.Backups;

/** The works of a server, and how often each is done. */
final class Works {
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

  private final Config config;
  private final InstantSource clock;
  private final Database database;
  private final Telling telling;
  private final Optional<Backups> backups;
  private final Clockwork clockwork;
  private final Clockwork shared;
  private final BooleanSupplier answering;

  /**
   * @param clockwork of this station
   * @param shared one for all stations; the same where there is only one
   * @param answering whether somebody waits for a page
   */
  Works(
      Config config,
      InstantSource clock,
      Database database,
      Optional<Backups> backups,
      Clockwork clockwork,
      Clockwork shared,
      BooleanSupplier answering) {
    this.config = config;
    this.clock = clock;
    this.database = database;
    this.backups = backups;
    this.clockwork = clockwork;
    this.shared = shared;
    this.answering = answering;
    telling = new Telling(config, database);
  }

  /**
   * Sets the works going. Those of a station run on each, wherever a row is to be worked off: rows
   * are claimed. The sweeps that find what was left run on one station at a time.
   */
  Inbox start() {
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
    MailSender mail = telling.mail();
    Review judge = telling.review(() -> telling.wakeSenders(clockwork));
    measuring.remeasure();
    database.change(tx -> Recomputations.policy(tx, config.policy(), Engine.VERSION));
    Lull lull = new Lull(answering, stopping);
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
    clockwork.every("inbox", config.inbox().poll(), () -> sweep(inbox));
    clockwork.every("measure", STAGE_SWEEP, () -> measuring.workAndLog(stopping));
    stage("review", STAGE_SWEEP, () -> judge.run(stopping));
    shared.every("digest", DIGEST_SWEEP, judge::digest);
    stage("outbox", OUTBOX_SWEEP, () -> mail.sendDue(stopping));
    backups.ifPresent(b -> clockwork.every("backup", BACKUP_SWEEP, () -> b.make(clock.instant())));
    telling.hook().ifPresent(h -> stage("hook", OUTBOX_SWEEP, () -> h.sendDue(stopping)));
    return inbox;
  }

  // A file that will have stood still before the next sweep isn't left lying until then, nor what
  // is to be told left untold.
  private void sweep(Inbox inbox) {
    inbox.sweep(clockwork::isStopping);
    inbox
        .untilNextLook(clock.instant())
        .filter(wait -> wait.compareTo(config.inbox().poll()) < 0)
        .ifPresent(wait -> clockwork.wakeAfter("inbox", wait));
  }

  // A stage is woken on the station that has work for it; its sweep runs on any one of them.
  private void stage(String name, Duration sweep, Runnable work) {
    if (shared == clockwork) {
      clockwork.every(name, sweep, work);
      return;
    }
    clockwork.every(name, WOKEN_ONLY, work);
    shared.every(name, sweep, work);
  }
}
