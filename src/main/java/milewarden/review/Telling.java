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

/**
 * Queues the message about what became due. A batch tells once, at its end, and only of what is
 * open then: an archive of three years sends one message, not fifty. Each cause stands in one
 * message only.
 */
final class Telling {
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
    Batches.told(tx);
    if (untold.isEmpty()) return false;
    DueMail mail = DueMail.of(abouts(tx, untold), digits, publicUrl.map(url -> url + "/due"));
    String messageId = messageId(untold);
    Outbox.queue(
        tx,
        messageId,
        Optional.of(untold.get(0).id()),
        mail.subject(),
        mail.text(),
        mail.html(),
        mail.png());
    for (DueItems.Due due : untold) DueItems.told(tx, due.id(), messageId);
    return true;
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
