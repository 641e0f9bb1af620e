package milewarden.store;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.DueId;
import milewarden.store.Id.MessageId;

/** Messages with finished words, and how sending them went; the queue of the sending stage. */
public final class Outbox {
  private static final String COLUMNS =
      """
      select id, message_id, due_item_id, subject, text_body, html_body, state, attempts,
             next_try_at, created_at, sent_at, answer
        from outbox
      """;
  private static final String QUEUE =
      """
      insert into outbox (message_id, due_item_id, subject, text_body, html_body, picture, state,
                          attempts, next_try_at, created_at)
      values (:message, :due, :subject, :text, :html, :picture, 'queued', 0, :now, :now)
      on conflict (message_id) do nothing
      """;
  private static final String CLAIMABLE =
      COLUMNS
          + """
           where state = 'queued' and next_try_at <= :now
             and (claimed_until is null or claimed_until <= :now)
           order by next_try_at, id limit :limit""";
  private static final String CLAIM =
      """
      update outbox set claimed_until = :until where id = :id""";
  private static final String RELEASE =
      """
      update outbox set claimed_until = null where claimed_until is not null""";
  private static final String TRIED =
      """
      update outbox
         set state = :state, attempts = attempts + 1, next_try_at = :next, sent_at = :sent,
             answer = :answer, claimed_until = null
       where id = :id""";
  private static final String AGAIN =
      """
      update outbox set state = 'queued', next_try_at = :now, claimed_until = null
       where id = :id and state <> 'queued'""";
  private static final String PICTURE =
      """
      select picture from outbox where id = :id and picture is not null""";
  private static final String BY_ID = COLUMNS + " where id = :id";
  private static final String PAGE = COLUMNS + " where id < :before order by id desc limit :limit";
  private static final String NEXT_TRY =
      """
      select min(next_try_at) as next_try from outbox where state = 'queued'""";
  private static final String COUNT =
      """
      select count(*) as messages from outbox where state = :state""";

  private Outbox() {}

  /** How far a message has come. */
  public enum State {
    QUEUED,
    SENT,
    FAILED
  }

  /**
   * A message.
   *
   * @param messageId stable, so that a message that is sent twice is known as one
   * @param answer what the mail server said last, or the file that it was written to
   */
  public record Message(
      MessageId id,
      String messageId,
      Optional<DueId> due,
      String subject,
      String text,
      String html,
      State state,
      int attempts,
      Instant nextTryAt,
      Instant createdAt,
      Optional<Instant> sentAt,
      Optional<String> answer) {}

  /** Queues a message, once: one that is queued under this id already stays as it is. */
  public static void queue(
      Tx tx,
      String messageId,
      Optional<DueId> due,
      String subject,
      String text,
      String html,
      Optional<byte[]> png) {
    tx.update(QUEUE)
        .bind("message", messageId)
        .bind("due", due)
        .bind("subject", subject)
        .bind("text", text)
        .bind("html", html)
        .bind("picture", png.orElse(null))
        .bind("now", tx.now())
        .execute();
  }

  /** Takes up to {@code limit} messages whose time has come and that no other worker holds. */
  public static List<Message> claim(Tx tx, int limit, Duration lease) {
    List<Message> messages =
        tx.query(CLAIMABLE)
            .bind("now", tx.now())
            .bind("limit", limit)
            .map(Row.as(Outbox::read))
            .list();
    for (Message m : messages)
      tx.update(CLAIM).bind("until", tx.now().plus(lease)).bind("id", m.id()).execute();
    return messages;
  }

  /** At the start of the only server on this store: what a dead one had claimed is free again. */
  public static void releaseClaims(Tx tx) {
    tx.update(RELEASE).execute();
  }

  public static void sent(Tx tx, MessageId id, String answer) {
    tried(tx, id, State.SENT, tx.now(), Optional.of(tx.now()), answer);
  }

  /** Sending failed for now. */
  public static void retry(Tx tx, MessageId id, Instant next, String answer) {
    tried(tx, id, State.QUEUED, next, Optional.empty(), answer);
  }

  /** Sending failed for good; the tester can send it again. */
  public static void failed(Tx tx, MessageId id, String answer) {
    tried(tx, id, State.FAILED, tx.now(), Optional.empty(), answer);
  }

  private static void tried(
      Tx tx, MessageId id, State state, Instant next, Optional<Instant> sent, String answer) {
    tx.update(TRIED)
        .bind("id", id)
        .bind("state", state)
        .bind("next", next)
        .bind("sent", sent)
        .bind("answer", answer)
        .execute();
  }

  /** The tester wants a message sent again. */
  public static void again(Tx tx, MessageId id) {
    tx.update(AGAIN).bind("id", id).bind("now", tx.now()).execute();
  }

  public static Optional<Message> find(Tx tx, MessageId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Outbox::read)).findOne();
  }

  /** The message's picture as PNG. */
  public static Optional<byte[]> picture(Tx tx, MessageId id) {
    return tx.query(PICTURE).bind("id", id).map(Row.as(r -> r.bytes("picture"))).findOne();
  }

  /** The newest messages before {@code before}, newest first. */
  public static List<Message> page(Tx tx, Optional<MessageId> before, int limit) {
    return tx.query(PAGE)
        .bind("before", before.map(MessageId::value).orElse(Long.MAX_VALUE))
        .bind("limit", limit)
        .map(Row.as(Outbox::read))
        .list();
  }

  /** When the next queued message is to be tried. */
  public static Optional<Instant> nextTry(Tx tx) {
    return tx.query(NEXT_TRY).map(Row.as(r -> r.instantIfAny("next_try"))).one();
  }

  public static int count(Tx tx, State state) {
    return tx.query(COUNT).bind("state", state).map(Row.as(r -> r.count("messages"))).one();
  }

  private static Message read(Row r) throws java.sql.SQLException {
    return new Message(
        new MessageId(r.number("id")),
        r.text("message_id"),
        r.has("due_item_id") ? Optional.of(new DueId(r.number("due_item_id"))) : Optional.empty(),
        r.text("subject"),
        r.text("text_body"),
        r.text("html_body"),
        r.choice("state", State.class),
        r.count("attempts"),
        r.instant("next_try_at"),
        r.instant("created_at"),
        r.instantIfAny("sent_at"),
        r.textIfAny("answer"));
  }
}
