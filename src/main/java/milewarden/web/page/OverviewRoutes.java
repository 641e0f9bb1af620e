package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import milewarden.report.page.IntakePage;
import milewarden.report.page.overview.OverviewOrder;
import milewarden.report.page.overview.OverviewPage;
import milewarden.report.page.settings.HealthLines;
import milewarden.report.page.settings.SettingsPage;
import milewarden.report.trial.AlarmLines;
import milewarden.store.Id.ModelId;
import milewarden.store.Queues;
import milewarden.store.Tx;
import milewarden.store.file.Standings;
import milewarden.store.file.Standings.Standing;
import milewarden.store.judged.AaRates;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.JudgedBriefly;
import milewarden.store.judged.Marks;
import milewarden.store.run.Courses;
import milewarden.store.run.Models;
import milewarden.verdict.Findings;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;
import milewarden.web.page.settings.DryRunRoutes;

/** What needs the tester today, and the rules. */
final class OverviewRoutes implements Routes {
  // On the overview the first few; all of them stand on the page of due items.
  private static final int MOST_DUE = 5;

  private final Desk desk;

  OverviewRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/", this::overview);
    config.routes.get("/settings", this::settings);
    new DryRunRoutes(desk).add(config);
  }

  private void overview(Context http) {
    OverviewOrder order =
        new OverviewOrder(
            Sent.text(http, "sort"),
            Sent.text(http, "find"),
            Sent.text(http, "show").equals("due"));
    OverviewPage page =
        desk.database()
            .read(
                tx -> {
                  Queues.Progress found = Queues.underWay(tx);
                  return unwritten(tx, order)
                      .during(IntakePage.Progress.of(found.done(), found.of(), desk.digits()));
                });
    desk.renderer().show(http, "overview", Frame.of("Overview", "/"), page);
  }

  // The page that is asked for most, as most ask for it; any other is made each time.
  private OverviewPage unwritten(Tx tx, OverviewOrder order) {
    return order.equals(OverviewOrder.USUAL) && desk.reading().isUsual()
        ? tx.unwritten(
            List.of(OverviewPage.class, desk.policy(), desk.digits()), () -> page(tx, order))
        : page(tx, order);
  }

  private OverviewPage page(Tx tx, OverviewOrder order) {
    Map<Standing, Integer> files = Standings.counts(tx);
    int waiting = files.getOrDefault(Standing.WAITING, 0);
    int offCourse = files.getOrDefault(Standing.OFF_COURSE, 0);
    Map<Long, Findings> models = new LinkedHashMap<>();
    List<ModelId> unread = new ArrayList<>();
    JudgedBriefly.readable(tx, unread).forEach((id, judged) -> models.put(id.value(), judged));
    if (models.isEmpty() && unread.isEmpty()) {
      int received = files.values().stream().mapToInt(Integer::intValue).sum();
      return OverviewPage.ofBeginning(
          !Courses.versionsInForce(tx).isEmpty(), received, waiting + offCourse);
    }
    List<DueItems.Due> due = DueEntries.sorted(DueItems.open(tx));
    return OverviewPage.of(
            models,
            controls(tx),
            DueEntries.items(due),
            DueEntries.of(due.stream().limit(MOST_DUE), desk.digits()),
            waiting,
            offCourse,
            files.getOrDefault(Standing.REFUSED, 0),
            order,
            desk.policy(),
            desk.digits())
        .without(names(tx, unread), names(tx, Marks.stopped(tx)));
  }

  private static List<String> names(Tx tx, List<ModelId> models) {
    return models.stream()
        .map(id -> Models.find(tx, id).map(Models.Model::name).orElse("model " + id))
        .toList();
  }

  private static Set<Long> controls(Tx tx) {
    Set<Long> controls = new HashSet<>();
    Set<Long> tested = new HashSet<>();
    for (Models.Unit unit : Models.units(tx))
      (unit.control() ? controls : tested).add(unit.model().value());
    controls.removeAll(tested);
    return controls;
  }

  private static List<HealthLines.Waiting> waiting(Tx tx) {
    return Queues.all(tx).stream()
        .map(
            q ->
                new HealthLines.Waiting(
                    switch (q.queue()) {
                      case FILES_RECEIVED -> "files to measure";
                      case FILES_WAITING -> "files that lack a tag";
                      case MODELS_TO_JUDGE -> "models to judge";
                      case MESSAGES_QUEUED -> "messages to send";
                    },
                    q.length(),
                    q.oldest()))
        .toList();
  }

  private void settings(Context http) {
    SettingsPage page =
        SettingsPage.of(
            desk.policy(),
            AlarmLines.of(
                desk.database()
                    .read(AaRates::latest)
                    .map(m -> new AlarmLines.Measured(m.at(), m.rate())),
                desk.digits()),
            HealthLines.of(
                desk.database().read(OverviewRoutes::waiting),
                desk.troubles().get(),
                desk.digits()),
            desk.about(),
            desk.reading().choice(),
            Sent.text(http, "done").equals("reading")
                ? "The pages are written so now, in this browser."
                : "",
            desk.digits());
    desk.renderer().show(http, "settings", Frame.of("Settings", "/settings"), page);
  }
}
