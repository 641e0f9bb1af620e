package milewarden.review.tell;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import milewarden.recipient.QuietHours;
import milewarden.recipient.Recipient;
import milewarden.report.Digits;
import milewarden.report.mail.DueMail;
import milewarden.store.Id.DueId;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.told.Outbox;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;

/** Messages about due items with all that they need: words, id, receiver, hours. */
final class MailWords {
  private final Digits digits;
  private final Optional<String> publicUrl;

  /**
   * @param publicUrl without a slash at its end, for links
   */
  MailWords(Digits digits, Optional<String> publicUrl) {
    this.digits = digits;
    this.publicUrl = publicUrl;
  }

  // In the units and numerals of the receiver's choice.
  private MailWords writtenFor(Recipient to) {
    return new MailWords(
        digits.forReader(
            to.units().orElse(digits.units()),
            to.locale().map(Locale::forLanguageTag).orElse(digits.locale())),
        publicUrl);
  }

  /** A message to nobody yet, for a store without receivers: it is kept and shown. */
  Outbox.Draft forNobody(Tx tx, List<DueItems.Due> items, DueMail.Why why) {
    return draft(
        id(items, suffix(why, tx)),
        items,
        mail(tx, items, occasion(items, why)),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }

  Outbox.Draft mail(Tx tx, List<DueItems.Due> items, DueMail.Why why, Recipient to) {
    return draft(
        id(items, mark(to.address()) + suffix(why, tx)),
        items,
        writtenFor(to).mail(tx, items, occasion(items, why)),
        Optional.of(to.address()),
        to.quietFor(items(items)),
        earlier(tx, items, to.address()));
  }

  Outbox.Draft digest(Tx tx, List<DueItems.Due> items, int closed, LocalDate day, Recipient to) {
    DueMail.Occasion occasion =
        new DueMail.Occasion(
            DueMail.Why.DIGEST, Optional.of(day), closed, link("/due"), handling(items));
    return draft(
        id(items, mark(to.address()) + ".digest." + day),
        items,
        writtenFor(to).mail(tx, items, occasion),
        Optional.of(to.address()),
        to.quietFor(items(items)),
        earlier(tx, items, to.address()));
  }

  /** The same for programs. */
  Outbox.Draft hook(Tx tx, List<DueItems.Due> items, DueMail.Why why) {
    DueMail mail = mail(tx, items, occasion(items, why));
    String id = id(items, ".hook" + suffix(why, tx));
    String body = HookBody.of(id, why, mail, items, link("/due"), tx.now(), digits);
    return new Outbox.Draft(
        id,
        ids(items),
        mail.subject(),
        body,
        "",
        Optional.empty(),
        Outbox.Channel.HOOK,
        Optional.empty(),
        Optional.empty(),
        List.of());
  }

  private static Outbox.Draft draft(
      String id,
      List<DueItems.Due> items,
      DueMail mail,
      Optional<String> to,
      Optional<QuietHours> quiet,
      List<String> earlier) {
    return new Outbox.Draft(
        id,
        ids(items),
        mail.subject(),
        mail.text(),
        mail.html(),
        mail.png(),
        Outbox.Channel.MAIL,
        to,
        quiet,
        earlier);
  }

  private DueMail mail(Tx tx, List<DueItems.Due> items, DueMail.Occasion occasion) {
    return DueMail.of(abouts(tx, items), occasion, digits);
  }

  private DueMail.Occasion occasion(List<DueItems.Due> items, DueMail.Why why) {
    return new DueMail.Occasion(why, Optional.empty(), 0, link("/due"), handling(items));
  }

  private Optional<String> link(String page) {
    return publicUrl.map(url -> url + page);
  }

  // A page with a form: opening it changes nothing.
  private Optional<String> handling(List<DueItems.Due> items) {
    return link("/alerts/items/" + numbers(items));
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

  // What was told of the same before, so that mail programs show one thread (RFC 5322, 3.6.4).
  private static List<String> earlier(Tx tx, List<DueItems.Due> items, String to) {
    Set<String> all = new LinkedHashSet<>();
    for (DueItems.Due due : items)
      all.addAll(Outbox.earlier(tx, due.id(), to, Outbox.Channel.MAIL));
    return all.stream().limit(MOST_EARLIER).toList();
  }

  // A header that names more is folded to no use.
  private static final int MOST_EARLIER = 10;

  private static List<DueId> ids(List<DueItems.Due> items) {
    return items.stream().map(DueItems.Due::id).toList();
  }

  private static List<DueItem> items(List<DueItems.Due> items) {
    return items.stream().map(DueItems.Due::item).toList();
  }

  /** Made of the items' numbers: the same items give the same id, however often it is sent. */
  private static String id(List<DueItems.Due> items, String suffix) {
    return "due." + numbers(items) + suffix + "@milewarden.invalid";
  }

  private static String numbers(List<DueItems.Due> items) {
    String numbers =
        items.stream().map(d -> Long.toString(d.id().value())).collect(Collectors.joining("."));
    if (numbers.length() <= LONGEST) return numbers;
    // RFC 5322 limits a line to 998 characters; a message about very many items names the first.
    return numbers.substring(0, numbers.lastIndexOf('.', LONGEST));
  }

  private static final int LONGEST = 200;

  // Put off several times, an item is told again several times.
  private static String suffix(DueMail.Why why, Tx tx) {
    return why == DueMail.Why.STILL_DUE ? ".again." + tx.now().toEpochMilli() : "";
  }

  // Tells receivers apart without naming them in a header that others may see.
  private static String mark(String address) {
    byte[] name = address.toLowerCase(Locale.ROOT).getBytes(StandardCharsets.UTF_8);
    return "." + UUID.nameUUIDFromBytes(name).toString().substring(0, 8);
  }
}
