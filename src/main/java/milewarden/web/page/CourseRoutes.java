package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.intake.CourseDrafting;
import milewarden.report.Words;
import milewarden.report.page.CoursePage;
import milewarden.report.page.CoursesPage;
import milewarden.report.page.IntakePage;
import milewarden.store.Courses;
import milewarden.store.Tx;
import milewarden.web.Frame;
import milewarden.web.Routes;

/** The reference courses, and the form that makes a first one. */
final class CourseRoutes implements Routes {
  private static final String HERE = "/courses";
  private static final int SHORT_HASH = 12;

  private final Desk desk;

  CourseRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, http -> show(http, "", Sent.text(http, "made")));
    config.routes.post(HERE, this::draft);
    config.routes.get(HERE + "/{slug}", this::course);
  }

  private void show(Context http, String refusal, String made) {
    CoursesPage page = desk.database().read(tx -> page(tx, http, refusal, made));
    desk.renderer().show(http, "courses", Frame.of("Courses", HERE), page);
  }

  private CoursesPage page(Tx tx, Context http, String refusal, String made) {
    List<CoursesPage.Row> rows = Courses.inForce(tx).stream().map(this::row).toList();
    return new CoursesPage(
        CoursesPage.sentence(rows.size(), desk.digits()),
        desk.courses(),
        rows,
        Courses.problems(tx).stream()
            .map(p -> new CoursesPage.Problem(p.fileName(), p.place(), p.sentence()))
            .toList(),
        new CoursesPage.Draft(
            Sent.text(http, "name"),
            Sent.text(http, "length"),
            Sent.text(http, "uncertainty"),
            Arrays.stream(Method.values())
                .map(m -> new IntakePage.Option(m.code(), Words.of(m)))
                .toList()),
        refusal,
        CourseSlug.isValid(made)
            ? "The course "
                + made
                + " was made; it is in force within seconds. Judge other recordings by it, not the"
                + " one that drew it."
            : "",
        Words.CAUTIONS);
  }

  private CoursesPage.Row row(ReferenceCourse c) {
    return CoursesPage.row(c, desk.digits());
  }

  private void draft(Context http) {
    List<UploadedFile> files = http.uploadedFiles("file");
    if (files.isEmpty())
      throw new BadRequestResponse("No recording came with the form. Choose one.");
    CourseDrafting.Outcome outcome =
        desk.drafting()
            .draft(
                Sent.bytes(files.get(0)),
                new CourseDrafting.Form(
                    Sent.text(http, "name"),
                    Sent.text(http, "length"),
                    Sent.text(http, "uncertainty"),
                    Method.of(Sent.text(http, "method")).orElse(Method.WHEEL),
                    Sent.text(http, "closed")));
    if (outcome.made()) http.redirect(HERE + "?made=" + outcome.slug());
    else show(http, outcome.sentence(), "");
  }

  private void course(Context http) {
    String slug = http.pathParam("slug");
    if (!CourseSlug.isValid(slug)) throw Sent.missing("course");
    CoursePage page = desk.database().read(tx -> course(tx, new CourseSlug(slug)));
    desk.renderer()
        .show(http, "course", Frame.of(page.name(), HERE), page, Map.of("plan", page.plan()));
  }

  private CoursePage course(Tx tx, CourseSlug slug) {
    Courses.Known known = Courses.find(tx, slug).orElseThrow(() -> Sent.missing("course"));
    List<CoursePage.Version> versions =
        Courses.versions(tx, slug).stream()
            .map(
                v ->
                    new CoursePage.Version(
                        v.course().version().substring(0, SHORT_HASH),
                        desk.digits().moment(v.addedAt()),
                        desk.digits().ground(v.course().referenceM()),
                        v.inForce()))
            .toList();
    return CoursePage.of(known.course(), versions, known.notices(), desk.digits());
  }
}
