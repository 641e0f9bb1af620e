package milewarden.web.page.course;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.course.FieldSheetItems;
import milewarden.intake.course.Attempt;
import milewarden.intake.course.CourseEditing;
import milewarden.intake.course.SheetForms;
import milewarden.report.page.Links;
import milewarden.report.page.course.BudgetTable;
import milewarden.report.page.course.MeasureForm;
import milewarden.report.page.course.MeasurePage;
import milewarden.store.run.Courses;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** The field sheet of a course's measurement: form, CSV, trial and version. */
public final class CourseMeasureRoutes implements Routes {
  private static final String HERE = "/courses";

  /** No course has this name: a sheet that belongs to none yet. */
  private static final String LOOSE = HERE + "/-/sheet";

  private final Desk desk;
  private final CourseDesk courses;

  public CourseMeasureRoutes(Desk desk) {
    this.desk = desk;
    this.courses = new CourseDesk(desk);
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(LOOSE, http -> blank(http, Optional.empty()));
    config.routes.post(LOOSE, http -> sent(http, Optional.empty()));
    config.routes.get(
        LOOSE + "/blank", http -> csv(http, SheetForms.blank(Sent.text(http, "method"))));
    config.routes.get(
        HERE + "/{slug}/measure", http -> blank(http, Optional.of(courses.known(http))));
    config.routes.post(
        HERE + "/{slug}/measure", http -> sent(http, Optional.of(courses.known(http))));
  }

  private void blank(Context http, Optional<Courses.Known> course) {
    MeasureForm form =
        course
            .map(c -> SheetForms.of(c.course()))
            .orElseGet(() -> new MeasureForm(Map.of(), Map.of()));
    String method = Sent.text(http, "method");
    if (form.method().isEmpty())
      form = form.with("method", course.map(CourseMeasureRoutes::usual).orElse("wheel"));
    show(
        http,
        course,
        method.isEmpty() ? form : form.with("method", method),
        MeasurePage.Tried.NOTHING);
  }

  private static String usual(Courses.Known course) {
    return course.course().method().code();
  }

  private void sent(Context http, Optional<Courses.Known> course) {
    switch (Sent.text(http, "act")) {
      case "csv" -> csv(http, SheetForms.csv(form(http)));
      case "read" -> read(http, course);
      case "keep" -> keep(http, course);
      default -> tried(http, course, form(http), List.of());
    }
  }

  private void read(Context http, Optional<Courses.Known> course) {
    List<UploadedFile> files = http.uploadedFiles("file");
    if (files.isEmpty()) throw new BadRequestResponse("No file came with the form. Choose one.");
    SheetForms.Read read = SheetForms.csv(Sent.bytes(files.get(0)));
    tried(http, course, read.form(), read.problems());
  }

  private void tried(
      Context http, Optional<Courses.Known> course, MeasureForm form, List<String> before) {
    if (!before.isEmpty()) {
      show(http, course, form, refused(before));
      return;
    }
    Attempt attempt = attempt(course, form);
    show(http, course, form, shown(course, attempt, attempt.problems()));
  }

  private Attempt attempt(Optional<Courses.Known> course, MeasureForm form) {
    return course
        .map(c -> desk.editing().measure(c.course(), form))
        .orElseGet(() -> desk.editing().workOut(form));
  }

  private MeasurePage.Tried shown(
      Optional<Courses.Known> course, Attempt attempt, List<String> problems) {
    return new MeasurePage.Tried(
        attempt.budget().map(b -> BudgetTable.of(b, desk.digits())),
        problems,
        attempt.notices(),
        course.flatMap(c -> attempt.next().map(n -> courses.effects(c, n))).orElse(List.of()),
        attempt.next().isPresent());
  }

  private static MeasurePage.Tried refused(List<String> problems) {
    return new MeasurePage.Tried(Optional.empty(), problems, List.of(), List.of(), false);
  }

  private void keep(Context http, Optional<Courses.Known> course) {
    Courses.Known known =
        course.orElseThrow(() -> new BadRequestResponse("This sheet belongs to no course."));
    MeasureForm form = form(http);
    Attempt attempt = attempt(course, form);
    if (attempt.next().isEmpty()) {
      show(http, course, form, shown(course, attempt, attempt.problems()));
      return;
    }
    CourseEditing.Kept kept = courses.keep(http, known, attempt.next().get());
    if (kept.written()) http.redirect(Links.course(known.course().slug().text()) + "?kept=yes");
    else show(http, course, form, shown(course, attempt, List.of(kept.sentence())));
  }

  private void show(
      Context http, Optional<Courses.Known> course, MeasureForm form, MeasurePage.Tried tried) {
    MeasurePage.Subject subject =
        course
            .map(
                c -> {
                  String link = Links.course(c.course().slug().text());
                  return new MeasurePage.Subject(
                      c.course().name(), link, link + "/measure", c.course().version());
                })
            .orElseGet(() -> new MeasurePage.Subject("", HERE, LOOSE, ""));
    desk.renderer()
        .show(
            http,
            "measure",
            Frame.of("Field sheet", HERE),
            MeasurePage.of(subject, form, tried, desk.digits()));
  }

  private static MeasureForm form(Context http) {
    Map<String, String> values = new HashMap<>();
    for (String name : http.formParamMap().keySet())
      if (MeasureForm.ITEMS.contains(name)) values.put(name, Sent.text(http, name));
    Map<String, List<MeasureForm.Ride>> rides = new HashMap<>();
    for (String item : FieldSheetItems.REPEATED) rides.put(item, rides(http, item));
    return new MeasureForm(values, rides);
  }

  private static List<MeasureForm.Ride> rides(Context http, String item) {
    List<MeasureForm.Ride> rides = new ArrayList<>();
    int rows =
        Math.max(http.formParams(item + ".value").size(), http.formParams(item + ".start").size());
    for (int i = 0; i < rows; i++) {
      MeasureForm.Ride ride =
          new MeasureForm.Ride(
              at(http, item + ".value", i),
              at(http, item + ".start", i),
              at(http, item + ".end", i),
              at(http, item + ".turns", i),
              at(http, item + ".temperature", i),
              at(http, item + ".note", i));
      rides.add(ride);
    }
    // Blank rows in between stay, so that a problem's number is that of the row on the page.
    while (!rides.isEmpty() && rides.get(rides.size() - 1).isBlank())
      rides.remove(rides.size() - 1);
    return rides;
  }

  private static String at(Context http, String name, int i) {
    List<String> all = http.formParams(name);
    return i < all.size() ? all.get(i).strip() : "";
  }

  private static void csv(Context http, String text) {
    if (text.isEmpty()) throw new BadRequestResponse("There is no sheet of that method.");
    http.header("Content-Disposition", "attachment; filename=\"field-sheet.csv\"");
    http.contentType("text/csv; charset=utf-8");
    http.result(text);
  }
}
