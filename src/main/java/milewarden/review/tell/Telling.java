package milewarden.review.tell;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.recipient.Audience;
import milewarden.recipient.Recipient;
import milewarden.report.Digits;
import milewarden.report.mail.DueMail;
import milewarden.store.Id.DueId;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Digests;
import milewarden.store.told.Outbox;
import milewarden.store.told.Recipients;
import milewarden.verdict.DueItem;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Queues the messages about what became due. A batch tells once, at its end, and only of what is
 * open then: an archive of three years sends one message, not fifty. Each cause stands in one
 * message to each receiver only, and again only where somebody put it off.
 */
public final class Telling {
  private static final Logger LOG = LoggerFactory.getLogger(Telling.class);

  private final Audience audience;
  private final MailWords words;

  public Telling(Digits digits, Optional<String> publicUrl, Audience audience) {
    this.audience = audience;
    this.words = new MailWords(digits, publicUrl);
  }

  /**
   * Queues what is to be told: where nothing is coming in, being measured or being judged any more,
   * what is open and was not told yet; and what was put off until now.
   *
   * @return true where a message was queued
   */
  public boolean tell(Tx tx) {
    boolean again = spread(tx, DueItems.awake(tx), DueMail.Why.STILL_DUE);
    if (!Batches.isQuiet(tx)) return again;
    List<DueItems.Due> untold = DueItems.untold(tx);
    boolean first = spread(tx, untold, DueMail.Why.BECAME_DUE);
    if (first || untold.isEmpty()) Batches.told(tx);
    return first || again;
  }

  /** Queues the digests whose time has come. */
  public boolean digest(Tx tx) {
    List<Recipient> all = audience.with(Recipients.all(tx));
    boolean queued = false;
    for (Recipient recipient : all) queued |= Digesting.of(tx, recipient, words);
    for (String address : Digests.addresses(tx))
      if (all.stream().noneMatch(r -> r.is(address)))
        for (DueId item : Digests.waiting(tx, address)) Digests.settle(tx, address, item);
    return queued;
  }

  // A mistake in the words must not keep the decision from being stored: it is logged, the items
  // stay untold, and the next telling tries again. So all words are found before a row is written.
  private boolean spread(Tx tx, List<DueItems.Due> items, DueMail.Why why) {
    if (items.isEmpty()) return false;
    List<Outbox.Draft> drafts = new ArrayList<>();
    List<Recipient> recipients = audience.with(Recipients.all(tx));
    try {
      if (recipients.isEmpty()) drafts.add(words.forNobody(tx, items, why));
      for (Recipient r : recipients) {
        List<DueItems.Due> now = items.stream().filter(d -> now(r, d)).toList();
        if (!now.isEmpty()) drafts.add(words.mail(tx, now, why, r));
      }
      if (audience.hook()) drafts.add(words.hook(tx, items, why));
    } catch (RuntimeException e) {
      LOG.error("the message about what is due can't be written; it is tried again", e);
      return false;
    }
    for (Recipient r : recipients)
      for (DueItems.Due due : items)
        if (r.wants(due.item()) && !r.atOnce(due.item())) Digests.add(tx, r.address(), due.id());
    for (Outbox.Draft draft : drafts) Outbox.queue(tx, draft);
    for (DueItems.Due due : items) told(tx, due.id(), why, drafts);
    return true;
  }

  private static boolean now(Recipient recipient, DueItems.Due due) {
    DueItem item = due.item();
    return recipient.wants(item) && recipient.atOnce(item);
  }

  private static void told(Tx tx, DueId id, DueMail.Why why, List<Outbox.Draft> drafts) {
    String messageId =
        drafts.stream()
            .filter(d -> d.items().contains(id))
            .findFirst()
            .map(Outbox.Draft::messageId)
            .orElse("");
    if (why == DueMail.Why.STILL_DUE) DueItems.reminded(tx, id, messageId);
    else DueItems.told(tx, id, messageId);
  }
}
