package milewarden.web.page.settings;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.time.DateTimeException;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.recipient.QuietHours;
import milewarden.recipient.Recipient;
import milewarden.report.page.settings.MailPage;
import milewarden.review.tell.TestMessage;
import milewarden.store.Tx;
import milewarden.store.run.Models;
import milewarden.store.told.Recipients;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Who is told, of what and when; and messages that only show that they come. */
public final class MailRoutes implements Routes {
  private static final String HERE = "/settings/mail";

  private final Desk desk;

  public MailRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, this::mail);
    config.routes.post(HERE, this::put);
    config.routes.post(HERE + "/remove", this::remove);
    config.routes.post(HERE + "/test", this::test);
  }

  private Recipient usual() {
    ZoneId zone = desk.digits().zone();
    // Never shown: the form's address is left empty with it.
    return Recipient.ofEverything(
        "nobody@milewarden.invalid", zone.equals(ZoneOffset.UTC) ? ZoneId.of("UTC") : zone);
  }

  private void mail(Context http) {
    Optional<Recipient> known =
        desk.database().read(tx -> Recipients.find(tx, Sent.text(http, "address")));
    show(http, known.orElseGet(this::usual), known.isEmpty(), done(http), "");
  }

  private static String done(Context http) {
    return switch (Sent.text(http, "done")) {
      case "kept" -> "The choice is kept; it holds from the next message on.";
      case "removed" -> "The address is taken off.";
      case "test" -> "The test message is queued; how it went stands on the Alerts page.";
      default -> "";
    };
  }

  private void show(Context http, Recipient shown, boolean blank, String done, String refusal) {
    MailPage page =
        desk.database()
            .read(
                tx ->
                    MailPage.of(
                            desk.mail().audience(),
                            Recipients.all(tx),
                            shown,
                            blank,
                            models(tx),
                            desk.mail().leaves(),
                            desk.reading().choice(),
                            done,
                            refusal)
                        .without(Recipients.unreadable(tx)));
    if (!refusal.isEmpty()) http.status(400);
    desk.renderer().show(http, "mail", Frame.of("Who is told", "/settings"), page);
  }

  private static Set<String> models(Tx tx) {
    return Models.all(tx).stream().map(Models.Model::name).collect(Collectors.toSet());
  }

  private void put(Context http) {
    try {
      Recipient sent = sent(http);
      desk.database().change(tx -> Recipients.put(tx, sent));
      http.redirect(HERE + "?done=kept");
    } catch (IllegalArgumentException | DateTimeException e) {
      show(http, usual(), true, "", refusal(http));
    }
  }

  private Recipient sent(Context http) {
    Set<DueItem.Severity> severities = EnumSet.noneOf(DueItem.Severity.class);
    for (DueItem.Severity s : DueItem.Severity.values())
      if (http.formParams("severity").contains(s.code())) severities.add(s);
    ZoneId zone = ZoneId.of(Sent.text(http, "zone"));
    String digestAt = Sent.text(http, "digest_at");
    return new Recipient(
            Sent.text(http, "address"),
            new LinkedHashSet<>(http.formParams("model")),
            severities,
            Sent.text(http, "delivery").equals("digest")
                ? Recipient.Delivery.DAILY_DIGEST
                : Recipient.Delivery.IMMEDIATE,
            digestAt.isEmpty() ? Recipient.USUAL_DIGEST : LocalTime.parse(digestAt),
            quiet(Sent.text(http, "quiet_from"), Sent.text(http, "quiet_to"), zone),
            Sent.text(http, "wrong_at_once").equals("yes"),
            zone)
        .reading(
            UnitChoice.of(Sent.text(http, "units")),
            Optional.of(Sent.text(http, "locale")).filter(desk.reading()::knows));
  }

  private static Optional<QuietHours> quiet(String from, String to, ZoneId zone) {
    if (from.isEmpty() && to.isEmpty()) return Optional.empty();
    return Optional.of(new QuietHours(LocalTime.parse(from), LocalTime.parse(to), zone));
  }

  /** What is wrong with what was sent, the first thing first. */
  private static String refusal(Context http) {
    if (!Recipient.isAddress(Sent.text(http, "address")))
      return "The address is not one plain address: write name@your.domain.";
    if (http.formParams("severity").isEmpty())
      return "Nothing is ticked to be told of: tick one at least.";
    try {
      ZoneId.of(Sent.text(http, "zone"));
    } catch (DateTimeException e) {
      return "The zone is not known: write one such as Europe/Vienna.";
    }
    return "Times are written as 07:00; quiet hours need a beginning and an end that differ.";
  }

  private void remove(Context http) {
    String address = Sent.text(http, "address");
    if (!desk.database().write(tx -> Recipients.remove(tx, address))) throw Sent.missing("address");
    http.redirect(HERE + "?done=removed");
  }

  private void test(Context http) {
    String address = Sent.text(http, "address");
    boolean hook = address.isEmpty() && desk.mail().audience().hook();
    // Only to who is told anyway: the page is no way to write to others.
    boolean known =
        desk.mail().audience().with(desk.database().read(tx -> Recipients.all(tx))).stream()
            .map(Recipient::address)
            .anyMatch(List.of(address)::contains);
    if (!known && !hook) throw Sent.missing("address");
    desk.database()
        .change(
            tx -> {
              if (hook) TestMessage.toHook(tx, desk.digits());
              else TestMessage.toAddress(tx, address, desk.digits());
            });
    desk.mail().wake().run();
    http.redirect(HERE + "?done=test");
  }
}
