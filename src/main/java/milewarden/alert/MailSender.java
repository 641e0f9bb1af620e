package milewarden.alert;

import jakarta.mail.MessagingException;
import jakarta.mail.Session;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import java.util.function.BooleanSupplier;
import milewarden.store.Database;
import milewarden.store.told.Outbox;
import milewarden.store.told.Sending;
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

  private final Database database;
  private final MailSettings settings;
  private final MailFolder folder;
  private final Retrying retrying;

  /**
   * @param folder where messages are kept as files when there is no mail server
   */
  public MailSender(Database database, MailSettings settings, Path folder) {
    this.database = database;
    this.settings = settings;
    this.folder = new MailFolder(folder);
    this.retrying = new Retrying(database, settings.firstRetry(), settings.longestRetry());
  }

  /** Delivers every message whose time has come; the number of those that went out. */
  public int sendDue() {
    return sendDue(() -> false);
  }

  /**
   * As {@link #sendDue()}.
   *
   * @param stopping asked after every message; the others are left for the next start
   */
  public int sendDue(BooleanSupplier stopping) {
    int sent = 0;
    while (!stopping.getAsBoolean()) {
      List<Outbox.Message> rows =
          database.write(tx -> Sending.claim(tx, Outbox.Channel.MAIL, BATCH, LEASE));
      if (rows.isEmpty()) return sent;
      sent +=
          settings.server().map(server -> send(rows, server, stopping)).orElseGet(() -> keep(rows));
    }
    return sent;
  }

  // A message to nobody is kept as a file, also where there is a server.
  private int send(
      List<Outbox.Message> rows, MailSettings.Server server, BooleanSupplier stopping) {
    List<Outbox.Message> letters = rows.stream().filter(this::hasReceiver).toList();
    int sent = keep(rows.stream().filter(r -> !hasReceiver(r)).toList());
    if (letters.isEmpty()) return sent;
    try (Post post = Post.open(server)) {
      for (Outbox.Message row : letters) {
        if (stopping.getAsBoolean()) break;
        if (send(post, row)) sent++;
      }
    } catch (MessagingException | IOException e) {
      // Rows that are marked already are left as they are.
      for (Outbox.Message row : letters) retrying.failed(row, answer(e), false);
    }
    return sent;
  }

  private String answer(Exception failure) {
    return Post.answer(failure, settings.server().flatMap(MailSettings.Server::login));
  }

  private boolean hasReceiver(Outbox.Message row) {
    return row.recipient().isPresent() || !settings.to().isEmpty();
  }

  private boolean send(Post post, Outbox.Message row) {
    try {
      String answer = post.send(letter(post.session(), row));
      database.change(tx -> Sending.sent(tx, row.id(), answer));
      LOG.info("message {} is sent: {}", row.messageId(), answer);
      return true;
    } catch (MessagingException e) {
      retrying.failed(row, answer(e), Post.isRefusal(e));
      return false;
    }
  }

  private int keep(List<Outbox.Message> rows) {
    Session session = Session.getInstance(new Properties());
    int kept = 0;
    for (Outbox.Message row : rows) {
      try {
        Path file = folder.write(letter(session, row), row);
        database.change(tx -> Sending.sent(tx, row.id(), "written to " + file.getFileName()));
        kept++;
      } catch (IOException | MessagingException e) {
        retrying.failed(row, answer(e), false);
      }
    }
    return kept;
  }

  private Letter letter(Session session, Outbox.Message row) throws MessagingException {
    Optional<byte[]> picture = database.read(tx -> Outbox.picture(tx, row.id()));
    return Letter.of(session, settings, row, picture);
  }
}
