package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Optional;
import milewarden.report.Status;
import milewarden.report.page.AlertsPage;
import milewarden.store.Id.MessageId;
import milewarden.store.Outbox;
import milewarden.store.Tx;
import milewarden.web.Frame;
import milewarden.web.Routes;

/** Who was told. */
final class AlertRoutes implements Routes {
  private static final int NEWEST = 100;

  private final Desk desk;

  AlertRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/alerts", this::alerts);
    config.routes.post("/alerts/{id}/again", this::again);
  }

  private void alerts(Context http) {
    AlertsPage page = desk.database().read(this::page);
    desk.renderer().show(http, "alerts", Frame.of("Alerts", "/alerts"), page);
  }

  private AlertsPage page(Tx tx) {
    List<AlertsPage.Message> messages =
        Outbox.page(tx, Optional.empty(), NEWEST).stream().map(this::message).toList();
    return AlertsPage.of(
        messages,
        Outbox.count(tx, Outbox.State.QUEUED),
        Outbox.count(tx, Outbox.State.FAILED),
        desk.digits());
  }

  private AlertsPage.Message message(Outbox.Message m) {
    Status state =
        switch (m.state()) {
          case QUEUED -> m.attempts() > 0 ? Status.watch("tried, waits") : Status.unknown("queued");
          case SENT -> Status.holds("sent");
          case FAILED -> Status.broken("failed");
        };
    return new AlertsPage.Message(
        m.id().value(),
        m.subject(),
        desk.digits().moment(m.sentAt().orElse(m.createdAt())),
        state,
        m.answer().orElse(""),
        m.text(),
        m.state() != Outbox.State.QUEUED);
  }

  private void again(Context http) {
    MessageId id = new MessageId(Sent.part(http, "id"));
    desk.database()
        .change(
            tx -> {
              if (Outbox.find(tx, id).isEmpty()) throw Sent.missing("message");
              Outbox.again(tx, id);
            });
    http.redirect("/alerts");
  }
}
