package milewarden.review;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import milewarden.report.Digits;
import milewarden.report.DueMail;
import milewarden.store.Batches;
import milewarden.store.DueItems;
import milewarden.store.Id.ModelId;
import milewarden.store.Judgements;
import milewarden.store.Outbox;
import milewarden.store.Tx;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Queues the message about what became due. A batch tells once, at its end, and only of what is
 * open then: an archive of three years sends one message, not fifty. Each cause stands in one
 * message only.
 */
final class Telling {
  private static final Logger LOG = LoggerFactory.getLogger(Telling.class);

  private final Digits digits;
  private final Optional<String> publicUrl;

  Telling(Digits digits, Optional<String> publicUrl) {
    this.digits = digits;
    this.publicUrl = publicUrl;
  }

  /**
   * Queues a message where nothing is coming in, being measured or being judged any more, and
   * something open was not told yet.
   *
   * @return true where a message was queued
   */
  boolean tell(Tx tx) {
    if (!Batches.isQuiet(tx)) return false;
    List<DueItems.Due> untold = DueItems.untold(tx);
    if (untold.isEmpty()) {
      Batches.told(tx);
      return false;
    }
    Optional<DueMail> mail = words(abouts(tx, untold));
    mail.ifPresent(m -> queue(tx, untold, m));
    return mail.isPresent();
  }

  private static void queue(Tx tx, List<DueItems.Due> items, DueMail mail) {
    String messageId = messageId(items);
    Outbox.queue(
        tx,
        messageId,
        Optional.of(items.get(0).id()),
        mail.subject(),
        mail.text(),
        mail.html(),
        mail.png());
    for (DueItems.Due due : items) DueItems.told(tx, due.id(), messageId);
    Batches.told(tx);
  }

  // A mistake in the words must not keep the decision from being stored: it is logged, the items
  // stay untold, and the next telling tries again.
  private Optional<DueMail> words(List<DueMail.About> abouts) {
    try {
      return Optional.of(DueMail.of(abouts, digits, publicUrl.map(url -> url + "/due")));
    } catch (RuntimeException e) {
      LOG.error("the message about what is due can't be written; it is tried again", e);
      return Optional.empty();
    }
  }

  /** By model, the model of the most pressing item first. */
  private static List<DueMail.About> abouts(Tx tx, List<DueItems.Due> items) {
    Map<ModelId, List<DueItem>> byModel = new LinkedHashMap<>();
    for (DueItems.Due due : items)
      byModel.computeIfAbsent(due.model(), m -> new ArrayList<>()).add(due.item());
    List<DueMail.About> abouts = new ArrayList<>();
    byModel.forEach(
        (model, due) -> {
          ModelJudgement judgement = Judgements.find(tx, model).orElseThrow();
          abouts.add(new DueMail.About(judgement, due));
        });
    return abouts;
  }

  /** Made of the items' numbers: the same items give the same id, however often it is sent. */
  private static String messageId(List<DueItems.Due> items) {
    String numbers =
        items.stream().map(d -> Long.toString(d.id().value())).collect(Collectors.joining("."));
    // RFC 5322 limits a line to 998 characters; a message about very many items names the first.
    String shortened = numbers.length() > 200 ? numbers.substring(0, 200) : numbers;
    return "due." + shortened + "@milewarden.invalid";
  }
}
