package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import milewarden.report.page.Option;
import milewarden.report.page.outing.HeadToHeadChart;
import milewarden.report.page.outing.HeadToHeadPage;
import milewarden.report.page.outing.HeadToHeadSessionsPage;
import milewarden.review.SideBySide;
import milewarden.web.Frame;
import milewarden.web.PageData;
import milewarden.web.Routes;
import milewarden.web.api.HeadToHeadApi;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Models head to head. */
final class HeadToHeadRoutes implements Routes {
  private final Desk desk;

  HeadToHeadRoutes(Desk desk) {
    this.desk = desk;
  }

  // Of so many models each two are told apart in 28 lines; more is no page any more.
  private static final int MOST = 8;

  // As on a model's page: so many marks of a line can be told apart, and rows be read.
  private static final int NEWEST = 60;
  private static final int AT_ONCE = 200;

  private static final String HERE = "/head-to-head";
  private static final String SESSIONS = HERE + "/sessions";

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, this::show);
    config.routes.get(SESSIONS, this::sessions);
    new HeadToHeadApi(desk.database(), desk.policy()).add(config);
  }

  private void show(Context http) {
    SideBySide.Found found = found(http);
    String query = query(http, found);
    // A program is given all that there is.
    int most = PageData.isAsked(http) ? Integer.MAX_VALUE : NEWEST;
    HeadToHeadPage page =
        HeadToHeadPage.of(
                found.head(),
                most,
                found.choices().stream().map(HeadToHeadRoutes::chooser).toList(),
                HeadToHeadApi.ADDRESS + query,
                SESSIONS + query,
                desk.policy(),
                desk.digits())
            .without(found.unread());
    Object charts =
        page.drawn()
            ? Map.of(
                "headtohead", HeadToHeadChart.of(found.head(), most, desk.policy(), desk.digits()))
            : Map.of();
    desk.renderer().show(http, "headtohead", Frame.of("Head to head", "/"), page, charts);
  }

  private void sessions(Context http) {
    SideBySide.Found found = found(http);
    String query = query(http, found);
    boolean all = PageData.isAsked(http);
    long from = all ? 0 : Sent.parse(Sent.text(http, "from")).orElse(0L);
    HeadToHeadSessionsPage page =
        HeadToHeadSessionsPage.of(
            found.head(),
            HERE + query,
            SESSIONS + query,
            (int) Math.max(0, Math.min(Integer.MAX_VALUE, from)),
            all ? Integer.MAX_VALUE : AT_ONCE,
            desk.digits());
    desk.renderer().show(http, "headtoheadsessions", Frame.of("Head to head, sessions", "/"), page);
  }

  private SideBySide.Found found(Context http) {
    List<String> asked = HeadToHeadApi.asked(http);
    return desk.database()
        .read(
            tx ->
                asked.isEmpty()
                    ? SideBySide.usual(tx, MOST, desk.policy())
                    : SideBySide.of(tx, asked, desk.policy()));
  }

  /** What is held against each other, for an address: with a mark of question, or empty text. */
  private static String query(Context http, SideBySide.Found found) {
    if (HeadToHeadApi.asked(http).isEmpty() && wholly(found)) return "";
    String chosen =
        chosen(found)
            .map(a -> "models=" + URLEncoder.encode(a, StandardCharsets.UTF_8))
            .collect(Collectors.joining("&"));
    return chosen.isEmpty() ? "" : "?" + chosen;
  }

  private static boolean wholly(SideBySide.Found found) {
    return found.choices().stream().allMatch(c -> c.chosen().isPresent());
  }

  /** As they are asked for. */
  private static Stream<String> chosen(SideBySide.Found found) {
    return found.choices().stream()
        .flatMap(c -> c.chosen().map(v -> c.model().value() + "@" + v).stream());
  }

  private static HeadToHeadPage.Chooser chooser(SideBySide.Choice choice) {
    String id = choice.model().value() + "@";
    return new HeadToHeadPage.Chooser(
        choice.name(),
        choice.tested().stream().map(v -> new Option(id + v, v)).toList(),
        choice.chosen().map(v -> id + v).orElse(""));
  }
}
