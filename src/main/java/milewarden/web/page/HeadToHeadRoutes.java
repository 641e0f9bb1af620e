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
import milewarden.review.SideBySide;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.api.HeadToHeadApi;
import milewarden.web.desk.Desk;

/** Models head to head. */
final class HeadToHeadRoutes implements Routes {
  private final Desk desk;

  HeadToHeadRoutes(Desk desk) {
    this.desk = desk;
  }

  // Of so many models each two are told apart in 28 lines; more is no page any more.
  private static final int MOST = 8;

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/head-to-head", this::show);
    new HeadToHeadApi(desk.database(), desk.policy()).add(config);
  }

  private void show(Context http) {
    List<String> asked = HeadToHeadApi.asked(http);
    SideBySide.Found found =
        desk.database()
            .read(
                tx ->
                    asked.isEmpty()
                        ? SideBySide.usual(tx, MOST, desk.policy())
                        : SideBySide.of(tx, asked, desk.policy()));
    String query =
        (asked.isEmpty() && wholly(found) ? Stream.<String>empty() : chosen(found))
            .map(a -> "models=" + URLEncoder.encode(a, StandardCharsets.UTF_8))
            .collect(Collectors.joining("&"));
    HeadToHeadPage page =
        HeadToHeadPage.of(
                found.head(),
                found.choices().stream().map(HeadToHeadRoutes::chooser).toList(),
                HeadToHeadApi.ADDRESS + (query.isEmpty() ? "" : "?" + query),
                desk.policy(),
                desk.digits())
            .without(found.unread());
    Object charts =
        page.drawn()
            ? Map.of("headtohead", HeadToHeadChart.of(found.head(), desk.policy(), desk.digits()))
            : Map.of();
    desk.renderer().show(http, "headtohead", Frame.of("Head to head", "/"), page, charts);
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
