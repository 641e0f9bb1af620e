package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.recipient.Audience;
import milewarden.recipient.Recipient;
import milewarden.report.AlertWords;
import milewarden.report.DueWords;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.report.Words;
import milewarden.report.page.Links;
import milewarden.report.page.settings.AlertItemsPage;
import milewarden.report.page.settings.AlertsPage;
import milewarden.review.tell.AlertHandling;
import milewarden.store.Id.DueId;
import milewarden.store.Id.MessageId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Outbox;
import milewarden.store.told.Recipients;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Who was told, and who has seen it. */
final class AlertRoutes implements Routes {
  private static final int NEWEST = 100;
  private static final String ITEMS = "/alerts/items/{items}";

  private final Desk desk;
  private final AlertHandling handling;

  AlertRoutes(Desk desk) {
    this.desk = desk;
    this.handling = new AlertHandling(desk.database());
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/alerts", this::alerts);
    config.routes.post("/alerts/{id}/again", this::again);
    config.routes.get(ITEMS, http -> items(http, ""));
    config.routes.post(ITEMS + "/acknowledge", this::acknowledge);
    config.routes.post(ITEMS + "/snooze", this::snooze);
  }

  private void alerts(Context http) {
    Choice<Outbox.State> state = Choice.of(http, "state", Outbox.State.class);
    AlertsPage page = desk.database().read(tx -> page(tx, state));
    desk.renderer().show(http, "alerts", Frame.of("Alerts", "/alerts"), page);
  }

  private AlertsPage page(Tx tx, Choice<Outbox.State> state) {
    List<AlertsPage.Message> messages =
        Outbox.page(tx, Optional.empty(), NEWEST).stream()
            .filter(m -> state.shows(m.state()))
            .map(m -> message(tx, m))
            .toList();
    List<AlertsPage.Item> open =
        DueEntries.sorted(DueItems.open(tx)).stream()
            .filter(d -> d.toldAt().isPresent())
            .map(this::item)
            .toList();
    return AlertsPage.of(
            open,
            state.links(
                "/alerts",
                Arrays.stream(Outbox.State.values()).filter(s -> Outbox.count(tx, s) > 0).toList(),
                s ->
                    s.name().toLowerCase(Locale.ROOT)
                        + " "
                        + desk.digits().count(Outbox.count(tx, s))),
            messages,
            Outbox.count(tx, Outbox.State.QUEUED),
            Outbox.count(tx, Outbox.State.FAILED),
            Outbox.count(tx, Outbox.State.SENT),
            toSomebody(tx),
            desk.digits())
        .without(Recipients.unreadable(tx));
  }

  private boolean toSomebody(Tx tx) {
    Audience told = desk.mail().audience();
    return told.hook() || !told.with(Recipients.all(tx)).isEmpty();
  }

  private AlertsPage.Item item(DueItems.Due due) {
    return new AlertsPage.Item(
        Words.capital(DueWords.title(due.item(), desk.digits())),
        JudgedWords.of(due.item().severity()),
        AlertWords.state(due.seen().isPresent(), due.snoozedUntil()),
        AlertWords.handled(
            due.seen().map(DueItems.Seen::at),
            due.seen().map(DueItems.Seen::by),
            due.snoozedUntil(),
            desk.digits()),
        Links.handling(due.id().value()));
  }

  private AlertsPage.Message message(Tx tx, Outbox.Message m) {
    Status state =
        switch (m.state()) {
          case QUEUED -> m.attempts() > 0 ? Status.watch("tried, waits") : Status.unknown("queued");
          case SENT -> toNobody(m) ? Status.unknown("kept") : Status.holds("sent");
          case FAILED -> Status.broken("failed");
        };
    boolean queued = m.state() == Outbox.State.QUEUED;
    return new AlertsPage.Message(
        m.id().value(),
        m.subject(),
        to(m),
        desk.digits().moment(m.sentAt().orElse(m.createdAt())),
        state,
        m.answer().orElse(""),
        queued
            ? AlertWords.waits(
                m.nextTryAt(),
                m.attempts() > 0,
                m.quiet().flatMap(q -> q.until(tx.now())),
                tx.now(),
                desk.digits())
            : "",
        m.text(),
        !queued);
  }

  private boolean toNobody(Outbox.Message m) {
    return m.channel() == Outbox.Channel.MAIL
        && m.recipient().isEmpty()
        && desk.mail().audience().always().isEmpty();
  }

  private String to(Outbox.Message m) {
    if (m.channel() == Outbox.Channel.HOOK) return "the webhook";
    return toNobody(m)
        ? "nobody: no address was given"
        : m.recipient().orElse(String.join(", ", desk.mail().audience().always()));
  }

  private void again(Context http) {
    MessageId id = new MessageId(Sent.part(http, "id"));
    desk.database()
        .change(
            tx -> {
              if (Outbox.find(tx, id).isEmpty()) throw Sent.missing("message");
              Outbox.again(tx, id);
            });
    desk.mail().wake().run();
    http.redirect("/alerts");
  }

  private static List<DueId> named(Context http) {
    List<DueId> ids = new ArrayList<>();
    for (String each : http.pathParam("items").split("[.]", -1))
      ids.add(new DueId(Sent.parse(each).orElseThrow(() -> Sent.missing("item"))));
    return ids;
  }

  private void items(Context http, String refusal) {
    List<DueId> ids = named(http);
    AlertItemsPage page =
        desk.database()
            .read(
                tx -> {
                  List<AlertsPage.Item> open = new ArrayList<>();
                  for (DueId id : ids)
                    DueItems.find(tx, id)
                        .filter(d -> d.closed().isEmpty())
                        .ifPresent(d -> open.add(item(d)));
                  LocalDate today = tx.now().atZone(desk.digits().zone()).toLocalDate();
                  return AlertItemsPage.of(
                      http.pathParam("items"), open, refusal, today, desk.digits());
                });
    if (!refusal.isEmpty()) http.status(400);
    desk.renderer().show(http, "alertitems", Frame.of("Acknowledge or put off", "/alerts"), page);
  }

  private void acknowledge(Context http) {
    settle(http, handling.acknowledge(named(http), Sent.by(http), Sent.text(http, "words")));
  }

  private void snooze(Context http) {
    Optional<Instant> until = until(Sent.text(http, "until"));
    settle(
        http,
        until.isEmpty()
            ? Optional.of("The day is missing: name one as 2026-05-12.")
            : handling.snooze(named(http), until.get(), Sent.by(http), Sent.text(http, "words")));
  }

  private void settle(Context http, Optional<String> refused) {
    if (refused.isPresent()) items(http, refused.get());
    else http.redirect("/alerts");
  }

  // A day begins when people read their messages.
  private Optional<Instant> until(String day) {
    try {
      return Optional.of(
          LocalDate.parse(day)
              .atTime(Recipient.USUAL_DIGEST)
              .atZone(desk.digits().zone())
              .toInstant());
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }
}
