package milewarden.alert;

import jakarta.mail.MessagingException;
import jakarta.mail.Session;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import milewarden.store.Database;
import milewarden.store.Outbox;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Delivers the outbox: sends first and marks after, so that a crash between the two sends a message
 * twice under one Message-ID and never not at all.
 */
public final class MailSender {
  private static final Logger LOG = LoggerFactory.getLogger(MailSender.class);
  // A row whose sender died is free again after this; longer than a full batch of timeouts.
  private static final Duration LEASE = Duration.ofMinutes(10);
  private static final int BATCH = 20;
  // Doubling longer than this is beyond any longest pause.
  private static final int MOST_DOUBLINGS = 20;

  private final Database database;
  private final MailSettings settings;
  private final MailFolder folder;

  /**
   * @param folder where messages are kept as files when there is no mail server
   */
  public MailSender(Database database, MailSettings settings, Path folder) {
    this.database = database;
    this.settings = settings;
    this.folder = new MailFolder(folder);
  }

  /** Delivers every message whose time has come; the number of those that went out. */
  public int sendDue() {
    int sent = 0;
    while (true) {
      List<Outbox.Message> rows = database.write(tx -> Outbox.claim(tx, BATCH, LEASE));
      if (rows.isEmpty()) return sent;
      Optional<MailSettings.Server> server = settings.server();
      sent += server.isPresent() ? send(rows, server.get()) : keep(rows);
    }
  }

  private int send(List<Outbox.Message> rows, MailSettings.Server server) {
    Session session = Post.session(server);
    int sent = 0;
    try (Post post = Post.open(session, server)) {
      for (Outbox.Message row : rows) if (send(post, session, row)) sent++;
    } catch (MessagingException e) {
      // Rows that are marked already are left as they are.
      for (Outbox.Message row : rows) failed(row, e);
    }
    return sent;
  }

  private boolean send(Post post, Session session, Outbox.Message row) {
    try {
      String answer = post.send(letter(session, row));
      database.change(tx -> Outbox.sent(tx, row.id(), answer));
      return true;
    } catch (MessagingException e) {
      failed(row, e);
      return false;
    }
  }

  private int keep(List<Outbox.Message> rows) {
    Session session = Session.getInstance(new Properties());
    int kept = 0;
    for (Outbox.Message row : rows) {
      try {
        Path file = folder.write(letter(session, row), row);
        database.change(tx -> Outbox.sent(tx, row.id(), "written to " + file.getFileName()));
        kept++;
      } catch (IOException | MessagingException e) {
        failed(row, e);
      }
    }
    return kept;
  }

  private Letter letter(Session session, Outbox.Message row) throws MessagingException {
    Optional<byte[]> picture = database.read(tx -> Outbox.picture(tx, row.id()));
    return Letter.of(session, settings, row, picture);
  }

  private void failed(Outbox.Message row, Exception why) {
    String answer = Post.answer(why);
    boolean changed =
        database.write(
            tx -> {
              boolean queued =
                  Outbox.find(tx, row.id())
                      .filter(m -> m.state() == Outbox.State.QUEUED)
                      .filter(m -> m.attempts() == row.attempts())
                      .isPresent();
              if (queued) Outbox.retry(tx, row.id(), tx.now().plus(pause(row.attempts())), answer);
              return queued;
            });
    if (changed && row.attempts() == 0)
      LOG.warn("message {} isn't delivered and will be tried again: {}", row.messageId(), answer);
  }

  /** How long after this many failed tries before it the next one comes. */
  Duration pause(int attempts) {
    Duration pause = settings.firstRetry();
    for (int i = 0; i < Math.min(attempts, MOST_DOUBLINGS); i++) pause = pause.multipliedBy(2);
    return pause.compareTo(settings.longestRetry()) < 0 ? pause : settings.longestRetry();
  }
}
