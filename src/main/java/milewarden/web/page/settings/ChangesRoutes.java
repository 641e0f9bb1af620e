package milewarden.web.page.settings;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Locale;
import milewarden.report.page.settings.ChangesPage;
import milewarden.store.ChangeRecord;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Who changed what. */
public final class ChangesRoutes implements Routes {
  private static final String HERE = "/settings/changes";
  private static final int AT_ONCE = 200;

  private final Desk desk;

  public ChangesRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, this::changes);
  }

  private void changes(Context http) {
    int from = (int) Math.max(0, Sent.parse(Sent.text(http, "from")).orElse(0L));
    List<ChangeRecord.Change> all =
        desk.database().read(tx -> ChangeRecord.page(tx, AT_ONCE + 1, from));
    ChangesPage page =
        new ChangesPage(
            all.stream().limit(AT_ONCE).map(this::line).toList(),
            all.size() > AT_ONCE ? HERE + "?from=" + (from + AT_ONCE) : "");
    desk.renderer().show(http, "changes", Frame.of("Changes", "/settings"), page);
  }

  private ChangesPage.Line line(ChangeRecord.Change change) {
    return new ChangesPage.Line(
        desk.digits().moment(change.at()),
        change.actor().words(),
        change.what().name().toLowerCase(Locale.ROOT),
        change.subject(),
        change.words());
  }
}
