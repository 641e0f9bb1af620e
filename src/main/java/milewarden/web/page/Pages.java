package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import java.util.List;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.page.course.CourseLineRoutes;
import milewarden.web.page.course.CourseMeasureRoutes;
import milewarden.web.page.course.CourseRoutes;
import milewarden.web.page.settings.ChangesRoutes;
import milewarden.web.page.settings.MailRoutes;
import milewarden.web.page.settings.PeopleRoutes;

/** The pages and their addresses. */
public final class Pages implements Routes {
  private final List<Routes> all;

  public Pages(Desk desk) {
    all =
        List.of(
            desk.reading(),
            new OverviewRoutes(desk),
            new ModelRoutes(desk),
            new PlanRoutes(desk),
            new SheetRoutes(desk),
            new HeadToHeadRoutes(desk),
            new RunRoutes(desk),
            new SessionRoutes(desk),
            new IntakeRoutes(desk),
            new DueRoutes(desk),
            new VerdictRoutes(desk),
            ReportRoutes.forTester(desk),
            new CourseRoutes(desk),
            new CourseMeasureRoutes(desk),
            new CourseLineRoutes(desk),
            new AlertRoutes(desk),
            new MailRoutes(desk),
            new PeopleRoutes(desk),
            new ChangesRoutes(desk));
  }

  @Override
  public void add(JavalinConfig config) {
    for (Routes each : all) each.add(config);
  }
}
