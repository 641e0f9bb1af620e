package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import java.util.List;
import milewarden.report.JudgedWords;
import milewarden.report.page.overview.DuePage;
import milewarden.store.Id.DueId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.verdict.DueItem;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** What is to be done next. */
final class DueRoutes implements Routes {
  private static final int CLOSED = 10;

  private final Desk desk;

  DueRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/due", this::due);
    config.routes.post("/due/close", this::close);
  }

  private void due(Context http) {
    Choice<DueItem.Kind> kind = Choice.of(http, "kind", DueItem.Kind.class);
    DuePage page = desk.database().read(tx -> page(tx, kind));
    desk.renderer().show(http, "due", Frame.of("Due", "/due"), page);
  }

  private DuePage page(Tx tx, Choice<DueItem.Kind> kind) {
    List<DueItems.Due> open = DueEntries.sorted(DueItems.open(tx));
    return DuePage.of(
        DueEntries.items(open),
        kind.links(
            "/due", open.stream().map(d -> d.item().kind()).distinct().toList(), JudgedWords::of),
        DueEntries.of(open.stream().filter(d -> kind.shows(d.item().kind())), desk.digits()),
        DueEntries.of(DueItems.closed(tx, CLOSED).stream(), desk.digits()));
  }

  private void close(Context http) {
    DueId item = new DueId(Sent.number(http, "item"));
    String words = Sent.text(http, "words");
    String by = Sent.by(http);
    if (words.isEmpty() || by.isEmpty())
      throw new BadRequestResponse("Say why the item is closed, and who closes it.");
    boolean closed = desk.database().write(tx -> DueItems.close(tx, item, by, words));
    if (!closed) throw Sent.missing("open item");
    http.redirect("/due");
  }
}
