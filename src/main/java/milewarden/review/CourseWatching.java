package milewarden.review;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.judged.Changes;
import milewarden.store.run.Courses;
import milewarden.store.run.GroundRows;
import milewarden.store.run.Models;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.ground.CourseWatch;

/** Watches a course by everything that was measured on it. */
public final class CourseWatching {
  /**
   * Passes; with more on a course, a page shows what was worked out last and says so, as going
   * through them takes about 50 ms per thousand, which with every recording that comes in is more
   * than a page may: our own choice.
   */
  private static final int MANY = 2_000;

  private CourseWatching() {}

  /**
   * What everything measured on a course says.
   *
   * @param uses how much was measured by the version in force
   * @param asOf when it was worked out, where something has moved since that it doesn't tell yet
   */
  public record Seen(CourseWatch watch, Courses.Uses uses, Optional<Instant> asOf) {}

  /** What was worked out, of so many passes, while all models had moved so far. */
  private record Worked(Seen seen, int passes, String moved, Instant at) {}

  /**
   * By the version in force and the present engine. A course of very many passes is told as it was
   * when it was last worked out, which {@link #keepFresh} does anew.
   */
  public static Seen of(Tx tx, ReferenceCourse course, Policy policy) {
    return of(tx, course, policy, MANY);
  }

  static Seen of(Tx tx, ReferenceCourse course, Policy policy, int many) {
    return Changes.last(tx, Worked.class, about(course, policy))
        .filter(w -> !tx.writes() && w.passes >= many && !w.moved.equals(Models.allMoved(tx)))
        .map(w -> new Seen(w.seen.watch, w.seen.uses, Optional.of(w.at)))
        .orElseGet(() -> fresh(tx, course, policy, () -> {}));
  }

  private static List<Object> about(ReferenceCourse course, Policy policy) {
    return List.of(course.slug(), course.version(), policy);
  }

  private static Seen fresh(Tx tx, ReferenceCourse course, Policy policy, Runnable giveWay) {
    Object about = about(course, policy);
    return Changes.unmoved(
            tx,
            List.of(),
            Models.allMoved(tx),
            Worked.class,
            about,
            () ->
                worked(
                    tx,
                    course,
                    policy,
                    // A page that waits for this very answer is none to give way to.
                    () -> {
                      if (!Changes.isAwaited(tx, Worked.class, about)) giveWay.run();
                    }))
        .seen;
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
      database.read(tx -> fresh(tx, course, policy, giveWayBriefly));
    }
  }

  private static Worked worked(Tx tx, ReferenceCourse course, Policy policy, Runnable giveWay) {
    String slug = course.slug().text();
    GroundRows rows = new GroundRows(tx, giveWay);
    List<PassEvidence> controls =
        rows.ofControls(Engine.VERSION).stream()
            .filter(p -> !p.condition().course().equals(slug))
            .toList();
    List<PassEvidence> passes = rows.onCourse(slug, Engine.VERSION);
    CourseWatch watch = CourseWatch.of(passes, controls, policy);
    Courses.Uses uses = Courses.uses(tx, course.slug(), course.version());
    return new Worked(
        new Seen(watch, uses, Optional.empty()), passes.size(), Models.allMoved(tx), tx.now());
  }
}
