package milewarden.review.tell;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.recipient.Recipient;
import milewarden.store.Id.DueId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Digests;
import milewarden.store.told.Outbox;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A receiver's daily digest: once on each local date, whatever the clock did meanwhile, and of each
 * item once. What was put off stays until then.
 */
final class Digesting {
  private static final Logger LOG = LoggerFactory.getLogger(Digesting.class);

  private Digesting() {}

  /**
   * Queues a receiver's digest where its time has come and something waits for it.
   *
   * @return true where one was queued
   */
  static boolean of(Tx tx, Recipient recipient, MailWords words) {
    String address = recipient.address();
    Instant now = tx.now();
    LocalDate day = recipient.digest().latest(now);
    boolean daily = recipient.delivery() == Recipient.Delivery.DAILY_DIGEST;
    Optional<LocalDate> last = Digests.last(tx, address);
    // Who no longer wants digests is told at once of what waited for one.
    if (daily && last.isPresent() && !recipient.digest().isDue(last.get(), now)) return false;
    List<DueItems.Due> open = new ArrayList<>();
    List<DueId> closed = new ArrayList<>();
    for (DueId id : Digests.waiting(tx, address)) {
      DueItems.Due due = DueItems.find(tx, id).orElseThrow();
      if (due.closed().isPresent()) closed.add(id);
      else if (due.snoozedUntil().filter(until -> until.isAfter(now)).isEmpty()) open.add(due);
    }
    boolean queued = false;
    if (!open.isEmpty()) {
      try {
        Outbox.queue(tx, words.digest(tx, sorted(open), closed.size(), day, recipient));
      } catch (IllegalArgumentException | IllegalStateException e) {
        LOG.error("a digest can't be written; it is tried again", e);
        return false;
      }
      queued = true;
    }
    for (DueItems.Due due : open) Digests.settle(tx, address, due.id());
    // With nothing else to tell there is nobody to tell that something came and went.
    for (DueId id : closed) Digests.settle(tx, address, id);
    if (daily) Digests.made(tx, address, day);
    return queued;
  }

  private static List<DueItems.Due> sorted(List<DueItems.Due> items) {
    return items.stream()
        .sorted(java.util.Comparator.comparing((DueItems.Due d) -> d.item().severity()))
        .toList();
  }
}
