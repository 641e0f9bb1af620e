package milewarden.web.page.course;

import io.javalin.http.Context;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import milewarden.course.CourseSlug;
import milewarden.course.ReferenceCourse;
import milewarden.intake.course.CourseEditing;
import milewarden.report.DamageWords;
import milewarden.report.page.course.UseLines;
import milewarden.report.trial.DryRunPage;
import milewarden.review.Forecast;
import milewarden.review.Trials;
import milewarden.store.Tx;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Courses;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** What the pages that change a course have in common. */
final class CourseDesk {
  // A small lab's course is measured anew by then; the dry run goes on where it isn't.
  private static final Duration READERS_PATIENCE = Duration.ofSeconds(15);

  private final Desk desk;

  CourseDesk(Desk desk) {
    this.desk = desk;
  }

  /** The course of the address, in force. */
  Courses.Known known(Context http) {
    String slug = http.pathParam("slug");
    if (!CourseSlug.isValid(slug)) throw Sent.missing("course");
    return desk.database()
        .read(tx -> Courses.find(tx, new CourseSlug(slug)))
        .orElseThrow(() -> Sent.missing("course"));
  }

  /** What a version would touch. */
  List<String> effects(Courses.Known known, ReferenceCourse next) {
    List<String> lines = new ArrayList<>(desk.database().read(tx -> effects(tx, known, next)));
    int number = desk.trials().begin(new Trials.Change.OfCourse(next, ""));
    Optional<Forecast> found =
        desk.trials().wait(number, READERS_PATIENCE).flatMap(Trials.Trial::found);
    if (found.isEmpty()) {
      lines.add(
          "What it would move is still being tried on the whole history: Settings, dry run "
              + number
              + ", says how far it is and what it found. Nothing waits for it.");
      return lines;
    }
    Forecast forecast = found.get();
    DryRunPage tried =
        DryRunPage.of(
            "This version",
            forecast.moves(),
            forecast.models(),
            forecast.runs(),
            forecast.lost(),
            forecast.messages(),
            List.of(),
            desk.digits());
    lines.add(tried.sentence());
    for (DryRunPage.ModelMoves model : tried.models())
      for (String sentence : model.sentences()) lines.add(model.model() + ": " + sentence);
    lines.addAll(tried.lost());
    lines.add(tried.quiet());
    return lines;
  }

  private List<String> effects(Tx tx, Courses.Known known, ReferenceCourse next) {
    ReferenceCourse now = known.course();
    Courses.Uses uses = Courses.uses(tx, now.slug(), now.version());
    List<Verdicts.Line> unread = new ArrayList<>();
    List<String> verdicts =
        Verdicts.readable(tx, unread).stream()
            .filter(Verdicts.OnRecord::stands)
            .map(Verdicts.OnRecord::verdict)
            .filter(v -> v.courses().stream().anyMatch(c -> c.slug().equals(now.slug().text())))
            .map(v -> v.model() + " " + v.firmware())
            .toList();
    List<String> lines =
        new ArrayList<>(
            UseLines.of(now, next, uses.runs(), uses.sessions(), verdicts, desk.digits()));
    if (!unread.isEmpty())
      lines.add(
          DamageWords.verdicts(
              unread.stream().map(Verdicts.Line::named).collect(Collectors.joining(", "))));
    return lines;
  }

  /** Writes a version; the form names the version that the reader looked at. */
  CourseEditing.Kept keep(Context http, Courses.Known known, ReferenceCourse next) {
    if (!Sent.text(http, "version").equals(known.course().version()))
      return new CourseEditing.Kept(
          false,
          "Another version came into force since this page was opened. Open the course again and"
              + " repeat the change there.");
    return desk.editing().keep(known, next, Sent.text(http, "author"), Sent.text(http, "reason"));
  }
}
