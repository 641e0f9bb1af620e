package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.report.DamageWords;
import milewarden.report.Words;
import milewarden.report.page.Links;
import milewarden.report.page.course.PlanChart;
import milewarden.report.page.outing.SessionPage;
import milewarden.review.OutingUnits;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.store.run.Courses;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** An outing: all devices side by side. */
final class SessionRoutes implements Routes {
  private final Desk desk;

  SessionRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/sessions/{name}", this::session);
  }

  private void session(Context http) {
    String course = Sent.text(http, "course");
    SessionPage page = desk.database().read(tx -> session(tx, http.pathParam("name"), course));
    Map<String, Object> charts = new HashMap<>();
    page.ladders().ifPresent(l -> charts.put("ladders", l));
    page.plan().ifPresent(p -> charts.put("plan", p));
    desk.renderer().show(http, "session", Frame.of("Session " + page.name(), "/"), page, charts);
  }

  private SessionPage session(Tx tx, String name, String course) {
    Sessions.Session session = Sessions.find(tx, name).orElseThrow(() -> Sent.missing("session"));
    Map<RunId, Runs.Run> runs = new LinkedHashMap<>();
    for (Runs.Run run : Runs.ofSession(tx, session.id())) runs.put(run.id(), run);
    List<SessionPage.Row> rows = new ArrayList<>();
    List<SessionPage.Counted> counted = new ArrayList<>();
    List<Results.Summary> results = Results.ofSession(tx, session.id(), desk.engineVersion());
    for (Results.Summary s : results) {
      Optional<Runs.Run> run = Optional.ofNullable(runs.get(s.run()));
      run.ifPresent(r -> rows.add(row(r, s)));
      run.filter(r -> r.heldFor().isEmpty() && s.exclusion().isEmpty())
          .ifPresent(
              r ->
                  counted.add(
                      new SessionPage.Counted(
                          r.unitName(),
                          r.firmware(),
                          s.distances(),
                          s.onCourse() && s.trackResolvable())));
    }
    return SessionPage.of(
        name,
        desk.digits().moment(session.firstStart()),
        runs.size(),
        rows,
        counted,
        beside(tx, session, List.copyOf(runs.values()), results, course),
        desk.digits());
  }

  private SessionPage.Beside beside(
      Tx tx,
      Sessions.Session session,
      List<Runs.Run> runs,
      List<Results.Summary> results,
      String wanted) {
    List<String> courses =
        runs.stream()
            .filter(r -> r.file().isPresent())
            .map(r -> r.facts().course())
            .distinct()
            .toList();
    Optional<String> course =
        courses.stream().filter(wanted::equals).findFirst().or(() -> courses.stream().findFirst());
    List<RunId> unread = new ArrayList<>();
    Optional<PlanChart> plan = course.flatMap(c -> plan(tx, runs, c, unread));
    return new SessionPage.Beside(
        OutingUnits.ladders(session, runs, results),
        OutingUnits.controls(tx, session, runs, desk.policy()).stream()
            .map(c -> SessionPage.control(c.unit(), c.meanPercent(), c.usual(), desk.digits()))
            .toList(),
        plan,
        unread.isEmpty() ? "" : DamageWords.tracks(unread.size()),
        courses.stream()
            .map(
                c ->
                    new SessionPage.OnCourse(
                        c,
                        Links.session(session.name()) + "?course=" + c + "#plan",
                        course.filter(c::equals).isPresent()))
            .toList());
  }

  /** The first pass of each unit over the course: more are a thicket. */
  private Optional<PlanChart> plan(Tx tx, List<Runs.Run> runs, String course, List<RunId> unread) {
    Map<String, PlanChart.Carried> carried = new LinkedHashMap<>();
    Optional<Courses.Known> known = Optional.empty();
    for (Runs.Run run : runs) {
      if (carried.containsKey(run.unitName()) || !run.facts().course().equals(course)) continue;
      Optional<Results.Measured> found;
      try {
        found = Results.find(tx, run.id());
      } catch (Unreadable e) {
        unread.add(run.id());
        continue;
      }
      if (found.isEmpty()) continue;
      known = Courses.version(tx, course, found.get().courseVersion());
      carried.put(
          run.unitName(), new PlanChart.Carried(run.unitName(), 1, found.get().measurement()));
    }
    return known.map(
        k -> PlanChart.together(k.course(), List.copyOf(carried.values()), desk.digits()));
  }

  private SessionPage.Row row(Runs.Run run, Results.Summary s) {
    String way = Words.of(s.direction());
    String remark =
        s.exclusion()
            .map(x -> RunRoutes.excluded(x, desk.digits()))
            .or(() -> RunRoutes.held(run))
            .orElse(
                s.onCourse()
                    ? run.control() ? "control unit" : ""
                    : "off the line: its track does not count");
    return SessionPage.row(
        new SessionPage.Who(
            run.unitName(),
            run.modelName(),
            Links.model(run.model().value()),
            run.firmware(),
            run.facts().course()
                + ", "
                + Words.of(run.facts().gait())
                + ", "
                + Words.of(run.facts().carriage()),
            "pass " + s.pass() + ", " + way,
            Links.run(run.id().value()) + "?pass=" + s.pass()),
        s.distances(),
        s.errors(),
        remark,
        s.exclusion().isEmpty() && run.heldFor().isEmpty(),
        desk.digits());
  }
}
