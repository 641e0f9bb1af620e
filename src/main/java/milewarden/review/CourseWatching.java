package milewarden.review;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.Engine;
import milewarden.course.CourseSlug;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.judged.Changes;
import milewarden.store.run.Courses;
import milewarden.store.run.GroundRows;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.ground.CourseWatch;

/** Watches a course by everything that was measured on it. */
public final class CourseWatching {
  private CourseWatching() {}

  /** By the version in force and the present engine. */
  public static CourseWatch of(Tx tx, CourseSlug slug, Policy policy) {
    return of(tx, slug, policy, () -> {});
  }

  private static CourseWatch of(Tx tx, CourseSlug slug, Policy policy, Runnable giveWay) {
    return Changes.unchanged(
        tx,
        CourseWatch.class,
        slug,
        () ->
            worked(
                tx,
                slug,
                policy,
                // A page that waits for this very answer is none to give way to.
                () -> {
                  if (!Changes.isAwaited(tx, CourseWatch.class, slug)) giveWay.run();
                }));
  }

  /** How much was measured by this version. */
  public static Courses.Uses uses(Tx tx, ReferenceCourse course) {
    return Changes.unchanged(
        tx,
        Courses.Uses.class,
        List.of(course.slug(), course.version()),
        () -> Courses.uses(tx, course.slug(), course.version()));
  }

  /**
   * Works out beforehand what the courses' pages will ask. It reads every pass of a course, which
   * nobody who opens its page should have to wait for; where nothing has changed it does nothing.
   *
   * @param giveWay called before each course; what it throws ends it
   * @param giveWayBriefly called every so many rows while one is read, in the midst of a reading
   *     transaction: in all it should wait for seconds only; what it throws ends it, too
   */
  public static void keepFresh(
      Database database, Policy policy, Runnable giveWay, Runnable giveWayBriefly) {
    // One that can't be read is named on the page of courses; it holds up no other.
    List<Courses.Known> readable = database.read(tx -> Courses.readable(tx, new ArrayList<>()));
    for (Courses.Known known : readable) {
      ReferenceCourse course = known.course();
      giveWay.run();
      database.read(tx -> List.of(of(tx, course.slug(), policy, giveWayBriefly), uses(tx, course)));
    }
  }

  private static CourseWatch worked(Tx tx, CourseSlug slug, Policy policy, Runnable giveWay) {
    GroundRows rows = new GroundRows(tx, giveWay);
    List<PassEvidence> controls =
        rows.ofControls(Engine.VERSION).stream()
            .filter(p -> !p.condition().course().equals(slug.text()))
            .toList();
    return CourseWatch.of(rows.onCourse(slug.text(), Engine.VERSION), controls, policy);
  }
}
