package milewarden.store.told;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.recipient.QuietHours;
import milewarden.store.Id.DueId;
import milewarden.store.Id.MessageId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Messages with finished words, and how sending them went. */
public final class Outbox {
  static final String COLUMNS =
      """
      select id, message_id, due_item_id, subject, text_body, html_body, state, attempts,
             next_try_at, created_at, sent_at, answer, channel, recipient, quiet, earlier
        from outbox
      """;
  private static final String QUEUE =
      """
      insert into outbox (message_id, due_item_id, subject, text_body, html_body, picture, state,
                          attempts, next_try_at, created_at, channel, recipient, quiet, earlier)
      values (:message, :due, :subject, :text, :html, :picture, 'queued', 0, :now, :now,
              :channel, :recipient, :quiet, :earlier)
      on conflict (message_id) do nothing
      """;
  private static final String TELLS_OF =
      """
      insert into told_item (outbox_id, due_item_id)
      select id, :due from outbox where message_id = :message
      on conflict do nothing""";
  private static final String ITEMS =
      """
      select due_item_id from told_item where outbox_id = :id order by due_item_id""";
  private static final String EARLIER =
      """
      select distinct o.id, o.message_id from outbox o join told_item t on t.outbox_id = o.id
       where t.due_item_id = :due and o.recipient = :recipient and o.channel = :channel
       order by o.id""";
  private static final String AGAIN =
      """
      update outbox set state = 'queued', next_try_at = :now, claimed_until = null,
             claimed_by = null
       where id = :id and state <> 'queued'""";
  private static final String PICTURE =
      """
      select picture from outbox where id = :id and picture is not null""";
  private static final String BY_ID = COLUMNS + " where id = :id";
  private static final String PAGE = COLUMNS + " where id < :before order by id desc limit :limit";
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

  /** By which road a message leaves. */
  public enum Channel {
    MAIL,
    HOOK
  }

  /**
   * A message with finished words.
   *
   * @param messageId stable, so that a message that is sent twice is known as one
   * @param items what it tells of
   * @param html empty text on the hook, whose text is its whole body
   * @param recipient empty: everybody whom the configuration names
   * @param quiet hours in which it waits
   * @param earlier ids of earlier messages about the same, the oldest first
   */
  public record Draft(
      String messageId,
      List<DueId> items,
      String subject,
      String text,
      String html,
      Optional<byte[]> png,
      Channel channel,
      Optional<String> recipient,
      Optional<QuietHours> quiet,
      List<String> earlier) {
    public Draft {
      items = List.copyOf(items);
      earlier = List.copyOf(earlier);
    }
  }

  /**
   * A message.
   *
   * @param messageId stable, so that a message that is sent twice is known as one
   * @param answer what the mail server said last, or the file that it was written to
   * @param recipient empty: everybody whom the configuration names
   * @param quiet hours in which it waits
   * @param earlier ids of earlier messages about the same, the oldest first
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
      Optional<String> answer,
      Channel channel,
      Optional<String> recipient,
      Optional<QuietHours> quiet,
      List<String> earlier) {
    public Message {
      earlier = List.copyOf(earlier);
    }
  }

  /** Queues a message to everybody whom the configuration names. */
  public static void queue(
      Tx tx,
      String messageId,
      Optional<DueId> due,
      String subject,
      String text,
      String html,
      Optional<byte[]> png) {
    queue(
        tx,
        new Draft(
            messageId,
            due.stream().toList(),
            subject,
            text,
            html,
            png,
            Channel.MAIL,
            Optional.empty(),
            Optional.empty(),
            List.of()));
  }

  /** Queues a message, once: one that is queued under this id already stays as it is. */
  public static void queue(Tx tx, Draft draft) {
    tx.update(QUEUE)
        .bind("message", draft.messageId())
        .bind("due", draft.items().stream().findFirst())
        .bind("subject", draft.subject())
        .bind("text", draft.text())
        .bind("html", draft.html())
        .bind("picture", draft.png().orElse(null))
        .bind("now", tx.now())
        .bind("channel", draft.channel())
        .bind("recipient", draft.recipient())
        .bind("quiet", draft.quiet().map(Json::write))
        .bind("earlier", String.join(" ", draft.earlier()))
        .execute();
    for (DueId item : draft.items())
      tx.update(TELLS_OF).bind("due", item).bind("message", draft.messageId()).execute();
  }

  /** What a message tells of. */
  public static List<DueId> items(Tx tx, MessageId id) {
    return tx.query(ITEMS)
        .bind("id", id)
        .map(Row.as(r -> new DueId(r.number("due_item_id"))))
        .list();
  }

  /** Message-IDs of what a receiver was told of an item, the oldest first. */
  public static List<String> earlier(Tx tx, DueId item, String recipient, Channel channel) {
    return tx.query(EARLIER)
        .bind("due", item)
        .bind("recipient", recipient)
        .bind("channel", channel)
        .map(Row.as(r -> r.text("message_id")))
        .list();
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

  public static int count(Tx tx, State state) {
    return tx.query(COUNT).bind("state", state).map(Row.as(r -> r.count("messages"))).one();
  }

  // Where they are damaged the message doesn't wait: told at night is better than not told.
  static Optional<QuietHours> quiet(Row r) throws java.sql.SQLException {
    return r.textIfAny("quiet").flatMap(q -> Json.readable(q, QuietHours.class));
  }

  static Message read(Row r) throws java.sql.SQLException {
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
        r.textIfAny("answer"),
        r.choice("channel", Channel.class),
        r.textIfAny("recipient"),
        quiet(r),
        r.text("earlier").isEmpty() ? List.of() : List.of(r.text("earlier").split(" ")));
  }
}
