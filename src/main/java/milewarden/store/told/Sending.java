package milewarden.store.told;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.recipient.QuietHours;
import milewarden.store.Id.MessageId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** The queue of the sending stage: who sends what now, and how it went. */
public final class Sending {
  private static final String QUIET =
      """
      select id, quiet from outbox
       where state = 'queued' and quiet is not null
         and (next_try_at <= :now or next_try_at > :beyond)
         and (claimed_until is null or claimed_until <= :now or claimed_until > :beyond)
       order by id""";
  private static final String WAIT =
      """
      update outbox set next_try_at = :until where id = :id""";
  private static final String CLAIMABLE =
      Outbox.COLUMNS
          + """
           where state = 'queued' and channel = :channel
             and (next_try_at <= :now or next_try_at > :beyond)
             and (claimed_until is null or claimed_until <= :now or claimed_until > :beyond)
           order by next_try_at, id limit :limit""";
  private static final String CLAIM =
      """
      update outbox set claimed_until = :until, claimed_by = :me where id = :id""";
  private static final String RELEASE =
      """
      update outbox set claimed_until = null, claimed_by = null
       where claimed_until is not null""";
  private static final String TRIED =
      """
      update outbox
         set state = :state, attempts = attempts + 1, next_try_at = :next, sent_at = :sent,
             answer = :answer, claimed_until = null, claimed_by = null
       where id = :id""";
  private static final String NEXT_TRY =
      """
      select min(next_try_at) as next_try from outbox where state = 'queued'""";

  private Sending() {}

  /**
   * Takes up to {@code limit} messages of a channel whose time has come and that no other worker
   * holds. A message whose receiver has quiet hours now is put off to their end.
   */
  public static List<Outbox.Message> claim(
      Tx tx, Outbox.Channel channel, int limit, Duration lease) {
    waitForQuietHours(tx);
    List<Outbox.Message> messages =
        tx.query(CLAIMABLE)
            .bind("now", tx.now())
            .bind("beyond", tx.beyond())
            .bind("channel", channel)
            .bind("limit", limit)
            .map(Row.as(Outbox::read))
            .list();
    for (Outbox.Message m : messages)
      tx.update(CLAIM)
          .bind("until", tx.now().plus(lease))
          .bind("me", tx.station())
          .bind("id", m.id())
          .execute();
    return messages;
  }

  private record Waiting(MessageId id, Optional<QuietHours> quiet) {}

  private static void waitForQuietHours(Tx tx) {
    List<Waiting> waiting =
        tx.query(QUIET)
            .bind("now", tx.now())
            .bind("beyond", tx.beyond())
            .map(Row.as(r -> new Waiting(new MessageId(r.number("id")), Outbox.quiet(r))))
            .list();
    for (Waiting w : waiting)
      w.quiet()
          .flatMap(quiet -> quiet.until(tx.now()))
          .ifPresent(end -> tx.update(WAIT).bind("until", end).bind("id", w.id()).execute());
  }

  /** At the start of the only server on this store: what a dead one had claimed is free again. */
  public static void releaseClaims(Tx tx) {
    tx.update(RELEASE).execute();
  }

  public static void sent(Tx tx, MessageId id, String answer) {
    tried(tx, id, Outbox.State.SENT, tx.now(), Optional.of(tx.now()), answer);
  }

  /** Sending failed for now. */
  public static void retry(Tx tx, MessageId id, Instant next, String answer) {
    tried(tx, id, Outbox.State.QUEUED, next, Optional.empty(), answer);
  }

  /** Sending failed for good; the tester can send it again. */
  public static void failed(Tx tx, MessageId id, String answer) {
    tried(tx, id, Outbox.State.FAILED, tx.now(), Optional.empty(), answer);
  }

  private static void tried(
      Tx tx,
      MessageId id,
      Outbox.State state,
      Instant next,
      Optional<Instant> sent,
      String answer) {
    tx.update(TRIED)
        .bind("id", id)
        .bind("state", state)
        .bind("next", next)
        .bind("sent", sent)
        .bind("answer", answer)
        .execute();
  }

  /** When the next queued message is to be tried. */
  public static Optional<Instant> nextTry(Tx tx) {
    return tx.query(NEXT_TRY).map(Row.as(r -> r.instantIfAny("next_try"))).one();
  }
}
