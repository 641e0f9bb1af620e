package milewarden.app;

import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import milewarden.alert.MailSender;
import milewarden.intake.CourseFolder;
import milewarden.intake.Inbox;
import milewarden.intake.Measuring;
import milewarden.schedule.Clockwork;
import milewarden.store.Database;
import milewarden.store.FolderLock;
import milewarden.store.Marks;
import milewarden.store.Outbox;
import milewarden.store.ReceivedFiles;
import milewarden.web.Renderer;
import milewarden.web.WebServer;
import milewarden.web.WebSettings;
import milewarden.web.page.Pages;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Everything wired together; closes in reverse order. */
public final class App implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(App.class);
  // Stages wake each other after their commits; this finds what a crash left between them.
  private static final Duration STAGE_SWEEP = Duration.ofSeconds(5);
  private static final Duration OUTBOX_SWEEP = Duration.ofSeconds(1);

  private final Config config;
  private final InstantSource clock;
  private final Deque<AutoCloseable> open = new ArrayDeque<>();
  private @Nullable WebServer web;

  public App(Config config, InstantSource clock) {
    this.config = config;
    this.clock = clock;
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
    Path data = config.data();
    keep(FolderLock.take(data));
    Database database = keep(Database.open(config.store(), clock));
    if (config.store().url().isEmpty()) database.change(App::releaseClaims);
    Clockwork clockwork = keep(new Clockwork());
    Inbox inbox = works(clockwork, database);
    Renderer renderer = new Renderer();
    web =
        keep(
            WebServer.start(
                new WebSettings(config.port(), config.publicUrl()),
                renderer,
                List.of(new Pages(renderer))));
    LOG.debug("{} files can't be taken in", inbox.troubles().size());
    clockwork.start();
  }

  private Inbox works(Clockwork clockwork, Database database) {
    Runnable measure = () -> clockwork.wake("measure");
    Inbox inbox = new Inbox(config.data(), config.inbox(), database, clock, measure);
    Measuring measuring =
        new Measuring(database, config.inbox(), config.zone(), () -> clockwork.wake("outbox"));
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
    MailSender mail = new MailSender(database, config.mail(), config.data().resolve("outbox"));
    measuring.remeasure();
    clockwork.every("courses", config.inbox().poll(), courses::sweep);
    clockwork.every("inbox", config.inbox().poll(), inbox::sweep);
    clockwork.every("measure", STAGE_SWEEP, measuring::work);
    clockwork.every("outbox", OUTBOX_SWEEP, mail::sendDue);
    return inbox;
  }

  // The lock of the folder says that no other process works on these rows.
  private static void releaseClaims(milewarden.store.Tx tx) {
    ReceivedFiles.releaseClaims(tx);
    Marks.releaseClaims(tx);
    Outbox.releaseClaims(tx);
  }

  private <T extends AutoCloseable> T keep(T part) {
    open.push(part);
    return part;
  }

  /** The dashboard's port; only after the start. */
  public int port() {
    if (web == null) throw new IllegalStateException("not started");
    return web.port();
  }

  @Override
  public synchronized void close() {
    while (!open.isEmpty()) {
      AutoCloseable part = open.pop();
      try {
        part.close();
      } catch (Exception e) {
        LOG.warn("{} didn't close cleanly", part.getClass().getSimpleName(), e);
      }
    }
  }
}
