package milewarden.web.page.course;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import milewarden.intake.course.Attempt;
import milewarden.intake.course.CourseEditing;
import milewarden.report.page.Links;
import milewarden.report.page.course.LinePage;
import milewarden.store.run.Courses;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Drawing the line of a course: trial first, then a version. */
public final class CourseLineRoutes implements Routes {
  private static final String HERE = "/courses";

  private final Desk desk;
  private final CourseDesk courses;

  public CourseLineRoutes(Desk desk) {
    this.desk = desk;
    this.courses = new CourseDesk(desk);
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(
        HERE + "/{slug}/line", http -> show(http, courses.known(http), LinePage.Tried.NOTHING));
    config.routes.post(HERE + "/{slug}/line", this::sent);
  }

  private void sent(Context http) {
    Courses.Known known = courses.known(http);
    Attempt attempt =
        desk.editing().draw(known.course(), Sent.text(http, "vertices"), Sent.text(http, "marks"));
    if (attempt.next().isPresent() && Sent.text(http, "act").equals("keep")) {
      CourseEditing.Kept kept = courses.keep(http, known, attempt.next().get());
      if (kept.written()) http.redirect(Links.course(known.course().slug().text()) + "?kept=yes");
      else show(http, known, tried(http, known, attempt, List.of(kept.sentence())));
      return;
    }
    show(http, known, tried(http, known, attempt, attempt.problems()));
  }

  private LinePage.Tried tried(
      Context http, Courses.Known known, Attempt attempt, List<String> problems) {
    return new LinePage.Tried(
        attempt.next(),
        Sent.text(http, "vertices"),
        Sent.text(http, "marks"),
        problems,
        attempt.notices(),
        attempt.next().map(n -> courses.effects(known, n)).orElse(List.of()),
        Sent.text(http, "author"),
        Sent.text(http, "reason"));
  }

  private void show(Context http, Courses.Known known, LinePage.Tried tried) {
    LinePage page = LinePage.of(known.course(), tried, desk.digits());
    desk.renderer()
        .show(http, "line", Frame.of("Draw the line", HERE), page, Map.of("editor", page.editor()));
  }
}
