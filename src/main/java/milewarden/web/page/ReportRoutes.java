package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.Optional;
import milewarden.report.paper.FirmwareReport;
import milewarden.report.paper.ReportHtml;
import milewarden.review.Reporting;
import milewarden.store.Id.ModelId;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** The report on one release, for the tester and, where the settings say so, for the public. */
public final class ReportRoutes implements Routes {
  private static final String VERDICT = "/verdicts/{model}/{number}/";
  private static final String PUBLIC = "/public";
  private static final String CAPSULE = VERDICT + Reporting.CAPSULE;
  // Its styles are within it; nothing else is let in, and no form goes out.
  private static final String CONTENT_POLICY =
      "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'none';"
          + " base-uri 'none'; frame-ancestors 'none'";

  private final Desk desk;
  private final boolean open;

  private ReportRoutes(Desk desk, boolean open) {
    this.desk = desk;
    this.open = open;
  }

  /** With everything that the tester knows. */
  static ReportRoutes forTester(Desk desk) {
    return new ReportRoutes(desk, true);
  }

  /** Published verdicts alone, with nothing in them that was not published; to be read only. */
  public static ReportRoutes forPublic(Desk desk) {
    return new ReportRoutes(desk, false);
  }

  @Override
  public void add(JavalinConfig config) {
    String at = open ? "" : PUBLIC;
    config.routes.get(at + VERDICT + "report.html", http -> html(http, verdict(http)));
    config.routes.get(at + VERDICT + "report.json", http -> json(http, verdict(http)));
    if (open) {
      config.routes.get("/models/{model}/report.html", http -> html(http, today(http)));
      config.routes.get("/models/{model}/report.json", http -> json(http, today(http)));
    } else config.routes.get(at + CAPSULE, http -> Published.capsule(desk.database(), http));
  }

  private static void html(Context http, FirmwareReport report) {
    http.header("Content-Security-Policy", CONTENT_POLICY)
        .contentType("text/html; charset=utf-8")
        .result(ReportHtml.of(report));
  }

  private static void json(Context http, FirmwareReport report) {
    http.contentType("application/json; charset=utf-8").result(Reporting.json(report));
  }

  private FirmwareReport verdict(Context http) {
    return desk.database()
        .<Optional<FirmwareReport>>read(
            tx -> Reporting.of(tx, Published.verdict(tx, http), desk.policy(), open, desk.digits()))
        .orElseThrow(() -> Sent.missing("verdict"));
  }

  private FirmwareReport today(Context http) {
    ModelId model = new ModelId(Sent.part(http, "model"));
    String firmware = Sent.text(http, "firmware");
    return desk.database()
        .<Optional<FirmwareReport>>read(
            tx -> Reporting.today(tx, model, firmware, desk.policy(), desk.digits()))
        .orElseThrow(() -> Sent.missing("release of this model"));
  }
}
