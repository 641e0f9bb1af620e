package milewarden.store.run;

import com.fasterxml.jackson.core.type.TypeReference;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import milewarden.course.CourseSlug;
import milewarden.course.ReferenceCourse;
import milewarden.store.ChangeRecord;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.file.Contents;

/** The versions of the reference courses, and what is wrong with the files in the folder. */
public final class Courses {
  private static final TypeReference<List<String>> TEXTS = new TypeReference<>() {};
  private static final String COLUMNS =
      """
      select slug, version, file_name, in_force, added_at, course, notices from course_version
      """;
  private static final String IN_FORCE = COLUMNS + " where in_force order by slug";
  private static final String VERSIONS_IN_FORCE =
      """
      select slug, version from course_version where in_force order by slug""";
  private static final String NAMES =
      """
      select slug, name from course_version where in_force order by slug""";
  private static final String FIND = COLUMNS + " where slug = :slug and in_force";
  private static final String VERSION = COLUMNS + " where slug = :slug and version = :version";
  private static final String VERSIONS = COLUMNS + " where slug = :slug order by id desc";
  private static final String ALL = COLUMNS + " order by slug, id desc";
  private static final String RETIRE =
      """
      update course_version set in_force = false
       where slug = :slug and in_force and version <> :version""";
  private static final String PUT =
      """
      insert into course_version (slug, version, name, file_name, site, length_m,
                                  standard_uncertainty_m, closed, in_force, added_at, course,
                                  notices)
      values (:slug, :version, :name, :file, :site, :length, :uncertainty, :closed, true, :now,
              :course, :notices)
      on conflict (slug, version) do update
         set in_force = true, file_name = excluded.file_name, notices = excluded.notices""";
  private static final String TEXT =
      """
      select course from course_version where slug = :slug and version = :version""";
  private static final String MEND =
      """
      update course_version set course = :course where slug = :slug and version = :version""";
  private static final String USES =
      """
      select count(distinct r.id) as runs, count(distinct r.session_id) as sessions
        from run r join measurement m on m.run_id = r.id
       where m.course_slug = :slug and m.course_version = :version""";
  private static final String FORGET_PROBLEMS =
      """
      delete from course_problem where file_name = :file""";
  private static final String ADD_PROBLEM =
      """
      insert into course_problem (file_name, position, place, sentence, found_at)
      values (:file, :position, :place, :sentence, :now)""";
  private static final String PROBLEMS =
      """
      select file_name, place, sentence, found_at from course_problem
       order by file_name, position""";

  // Of a course's text, characters: some two thousand points. What is kept of many longer ones
  // would be more memory than it is worth.
  private static final int MOST_KEPT = 100_000;

  private Courses() {}

  /**
   * A version of a course.
   *
   * @param fileName of the file in the courses' folder that it was last read from
   * @param notices warnings for the course page, as sentences
   */
  public record Known(
      ReferenceCourse course,
      String fileName,
      boolean inForce,
      Instant addedAt,
      List<String> notices) {
    public Known {
      notices = List.copyOf(notices);
    }
  }

  /** How many runs, of how many sessions, were measured by a version. */
  public record Uses(long runs, long sessions) {}

  public static Uses uses(Tx tx, CourseSlug slug, String version) {
    return tx.query(USES)
        .bind("slug", slug.text())
        .bind("version", version)
        .map(Row.as(r -> new Uses(r.number("runs"), r.number("sessions"))))
        .one();
  }

  /** What is wrong with a file; the last good version stays in force. */
  public record Problem(String fileName, String place, String sentence, Instant foundAt) {}

  /**
   * Puts a version in force. The file's bytes are kept with it.
   *
   * @return true where it was not the version in force before
   */
  public static boolean put(
      Tx tx, ReferenceCourse course, String fileName, Contents.Packed bytes, List<String> notices) {
    boolean inForce = course.version().equals(versionsInForce(tx).get(course.slug().text()));
    Contents.put(tx, bytes);
    tx.update(RETIRE)
        .bind("slug", course.slug().text())
        .bind("version", course.version())
        .execute();
    tx.update(PUT)
        .bind("slug", course.slug().text())
        .bind("version", course.version())
        .bind("name", course.name())
        .bind("file", fileName)
        .bind("site", course.skyView())
        .bind("length", course.measuredLengthM())
        .bind("uncertainty", course.standardUncertaintyM())
        .bind("closed", course.closed())
        .bind("now", tx.now())
        .bind("course", Json.write(course))
        .bind("notices", Json.write(notices))
        .execute();
    if (!inForce)
      ChangeRecord.note(
          tx,
          ChangeRecord.What.COURSE,
          course.slug().text(),
          "version "
              + course.version()
              + " from "
              + fileName
              + ", "
              + course.measuredLengthM()
              + " m, measured by "
              + course.measuredBy());
    return !inForce;
  }

  /**
   * Writes a version anew where it is known and what is stored of it is damaged.
   *
   * @return true where it was
   */
  public static boolean mend(Tx tx, ReferenceCourse course) {
    String slug = course.slug().text();
    boolean damaged =
        tx.query(TEXT)
            .bind("slug", slug)
            .bind("version", course.version())
            .map(Row.as(r -> r.text("course")))
            .findOne()
            .filter(text -> Json.readable(text, ReferenceCourse.class).isEmpty())
            .isPresent();
    if (damaged)
      tx.update(MEND)
          .bind("slug", slug)
          .bind("version", course.version())
          .bind("course", Json.write(course))
          .execute();
    return damaged;
  }

  /**
   * The courses in force that can be read, by slug.
   *
   * @param unread is given the slugs of the others
   */
  public static List<Known> readable(Tx tx, List<String> unread) {
    return tx
        .query(IN_FORCE)
        .map(Row.readable(r -> read(tx, r), r -> r.text("slug"), unread))
        .list()
        .stream()
        .flatMap(Optional::stream)
        .toList();
  }

  /** The courses in force, by slug. */
  public static List<ReferenceCourse> inForce(Tx tx) {
    return tx.query(IN_FORCE).map(Row.as(r -> read(tx, r))).list().stream()
        .map(Known::course)
        .toList();
  }

  /** Their names by slug, without their lines. */
  public static Map<String, String> names(Tx tx) {
    Map<String, String> names = new TreeMap<>();
    tx.query(NAMES).map(Row.as(r -> names.put(r.text("slug"), r.text("name")))).list();
    return names;
  }

  /** Their versions by slug, without their lines. */
  public static Map<String, String> versionsInForce(Tx tx) {
    Map<String, String> versions = new TreeMap<>();
    tx.query(VERSIONS_IN_FORCE)
        .map(Row.as(r -> versions.put(r.text("slug"), r.text("version"))))
        .list();
    return versions;
  }

  /** The version in force. */
  public static Optional<Known> find(Tx tx, CourseSlug slug) {
    return tx.query(FIND).bind("slug", slug.text()).map(Row.as(r -> read(tx, r))).findOne();
  }

  public static Optional<Known> version(Tx tx, String slug, String version) {
    return tx.query(VERSION)
        .bind("slug", slug)
        .bind("version", version)
        .map(Row.as(r -> read(tx, r)))
        .findOne();
  }

  /**
   * All versions of a course that can be read, the newest first.
   *
   * @param unread is given its slug once for each of the others
   */
  public static List<Known> versions(Tx tx, CourseSlug slug, List<String> unread) {
    return tx
        .query(VERSIONS)
        .bind("slug", slug.text())
        .map(Row.readable(r -> read(tx, r), r -> r.text("slug"), unread))
        .list()
        .stream()
        .flatMap(Optional::stream)
        .toList();
  }

  /** All versions of a course, the newest first. */
  public static List<Known> versions(Tx tx, CourseSlug slug) {
    return tx.query(VERSIONS).bind("slug", slug.text()).map(Row.as(r -> read(tx, r))).list();
  }

  /** All versions of all courses, by slug and the newest first. */
  public static List<Known> all(Tx tx) {
    return tx.query(ALL).map(Row.as(r -> read(tx, r))).list();
  }

  /** Replaces what is known to be wrong with a file; nothing where it is good or gone. */
  public static void problems(Tx tx, String fileName, List<Problem> problems) {
    tx.update(FORGET_PROBLEMS).bind("file", fileName).execute();
    int position = 0;
    for (Problem p : problems)
      tx.update(ADD_PROBLEM)
          .bind("file", fileName)
          .bind("position", position++)
          .bind("place", p.place())
          .bind("sentence", p.sentence())
          .bind("now", tx.now())
          .execute();
  }

  public static List<Problem> problems(Tx tx) {
    return tx.query(PROBLEMS)
        .map(
            Row.as(
                r ->
                    new Problem(
                        r.text("file_name"),
                        r.text("place"),
                        r.text("sentence"),
                        r.instant("found_at"))))
        .list();
  }

  private static Known read(Tx tx, Row r) throws java.sql.SQLException {
    return new Known(
        course(
            tx,
            List.of(ReferenceCourse.class, r.text("slug"), r.text("version")),
            r.text("course")),
        r.text("file_name"),
        r.flag("in_force"),
        r.instant("added_at"),
        Json.read(r.text("notices"), TEXTS));
  }

  /** Made of its text, or what was made of the same text before: a line has thousands of points. */
  private static ReferenceCourse course(Tx tx, List<Object> which, String text) {
    if (text.length() > MOST_KEPT) return Json.read(text, ReferenceCourse.class);
    return (ReferenceCourse)
        tx.readBefore()
            .remembered
            .answer(which, text, () -> Json.read(text, ReferenceCourse.class));
  }
}
