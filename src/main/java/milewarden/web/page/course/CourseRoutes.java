package milewarden.web.page.course;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.intake.course.CourseDrafting;
import milewarden.intake.course.CourseEditing;
import milewarden.report.DamageWords;
import milewarden.report.Words;
import milewarden.report.page.Option;
import milewarden.report.page.course.CoursePage;
import milewarden.report.page.course.CoursesPage;
import milewarden.report.page.course.VersionRows;
import milewarden.review.CourseWatching;
import milewarden.store.Tx;
import milewarden.store.run.Courses;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** The reference courses, and the form that makes a first one. */
public final class CourseRoutes implements Routes {
  private static final String HERE = "/courses";

  private final Desk desk;

  public CourseRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, http -> show(http, "", Sent.text(http, "made")));
    config.routes.post(HERE, this::draft);
    config.routes.post(HERE + "/-/track", this::track);
    config.routes.get(HERE + "/{slug}", this::course);
  }

  private void show(Context http, String refusal, String made) {
    CoursesPage page = desk.database().read(tx -> page(tx, http, refusal, made));
    desk.renderer().show(http, "courses", Frame.of("Courses", HERE), page);
  }

  private CoursesPage page(Tx tx, Context http, String refusal, String made) {
    List<String> unread = new ArrayList<>();
    List<ReferenceCourse> all =
        Courses.readable(tx, unread).stream().map(Courses.Known::course).toList();
    CoursesPage.Order order = order(http);
    List<CoursesPage.Row> rows = order.of(all).stream().map(this::row).toList();
    return new CoursesPage(
        CoursesPage.sentence(all.size(), desk.digits()),
        desk.courses(),
        order,
        all.size() > rows.size() ? desk.digits().count(all.size() - rows.size()) : "",
        rows,
        Stream.concat(
                unread.stream().map(c -> new CoursesPage.Problem(c, "", DamageWords.course(c))),
                Courses.problems(tx).stream()
                    .map(p -> new CoursesPage.Problem(p.fileName(), p.place(), p.sentence())))
            .toList(),
        new CoursesPage.Draft(
            Sent.text(http, "name"),
            Sent.text(http, "length"),
            Sent.text(http, "uncertainty"),
            Sent.text(http, "tolerance"),
            Sent.text(http, "centre"),
            Sent.text(http, "bearing"),
            Sent.text(http, "lane"),
            Sent.text(http, "start"),
            Arrays.stream(Method.values()).map(m -> new Option(m.code(), Words.of(m))).toList()),
        refusal,
        CourseSlug.isValid(made)
            ? "The course "
                + made
                + " was made; it is in force within seconds. Judge other recordings by it, not the"
                + " one that drew it."
            : "",
        Words.CAUTIONS);
  }

  // A form that was sent has fields of its own.
  private static CoursesPage.Order order(Context http) {
    String sort = http.queryParam("sort");
    String find = http.queryParam("find");
    return new CoursesPage.Order(sort == null ? "" : sort, find == null ? "" : find);
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
                files.stream()
                    .map(f -> new CourseDrafting.Sent(f.filename(), Sent.bytes(f)))
                    .toList(),
                new CourseDrafting.Form(
                    Sent.text(http, "name"),
                    Sent.text(http, "length"),
                    Sent.text(http, "uncertainty"),
                    Method.of(Sent.text(http, "method")).orElse(Method.WHEEL),
                    Sent.text(http, "closed"),
                    Sent.text(http, "tolerance")));
    answer(http, outcome);
  }

  private void track(Context http) {
    answer(
        http,
        desk.drafting()
            .track(
                new CourseDrafting.TrackForm(
                    Sent.text(http, "name"),
                    Sent.text(http, "centre"),
                    Sent.text(http, "bearing"),
                    Sent.text(http, "lane"),
                    Sent.text(http, "start"))));
  }

  private void answer(Context http, CourseDrafting.Outcome outcome) {
    if (outcome.made()) http.redirect(HERE + "?made=" + outcome.slug());
    else show(http, outcome.sentence(), "");
  }

  private void course(Context http) {
    Courses.Known known = new CourseDesk(desk).known(http);
    String kept =
        Sent.text(http, "kept").isEmpty()
            ? ""
            : "The next version was written into the courses' folder; it is in force within"
                + " seconds, and its runs are measured anew beside the old results.";
    CoursePage page = desk.database().read(tx -> course(tx, known, kept));
    desk.renderer()
        .show(http, "course", Frame.of(page.name(), HERE), page, Map.of("plan", page.plan()));
  }

  private CoursePage course(Tx tx, Courses.Known known, String kept) {
    List<String> unread = new ArrayList<>();
    List<Courses.Known> versions = Courses.versions(tx, known.course().slug(), unread);
    List<String> notices = new ArrayList<>(known.notices());
    if (!unread.isEmpty()) notices.add(DamageWords.courseVersions(unread.size()));
    CourseWatching.Seen seen = CourseWatching.of(tx, known.course(), desk.policy());
    return CoursePage.of(
        known.course(),
        new CoursePage.Beside(
            CourseEditing.budgetOf(known.course()),
            seen.watch(),
            seen.asOf(),
            VersionRows.of(
                versions.stream().map(Courses.Known::course).toList(),
                versions.stream().map(v -> desk.digits().moment(v.addedAt())).toList(),
                versions.stream().map(Courses.Known::inForce).toList(),
                desk.digits()),
            desk.digits().counted(seen.uses().runs(), "run")
                + " of "
                + desk.digits().counted(seen.uses().sessions(), "session")
                + " measured by the version in force",
            kept,
            notices),
        desk.digits());
  }
}
