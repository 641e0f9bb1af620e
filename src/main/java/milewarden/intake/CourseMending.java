package milewarden.intake;

import java.util.List;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.run.Courses;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Reads damaged lines of courses anew from their files' bytes, which the store keeps. */
final class CourseMending {
  private static final Logger LOG = LoggerFactory.getLogger(CourseMending.class);

  private CourseMending() {}

  /**
   * Mends what it can of these courses in force, and has tried again what waits for them.
   *
   * @return true where one can be read now
   */
  static boolean mend(Database database, List<String> slugs) {
    if (slugs.isEmpty()) return false;
    return database.write(
        tx -> {
          boolean any = false;
          for (String slug : slugs) any |= mended(tx, slug);
          return any;
        });
  }

  private static boolean mended(Tx tx, String slug) {
    Optional<ReferenceCourse> found =
        Optional.ofNullable(Courses.versionsInForce(tx).get(slug))
            .flatMap(version -> stored(tx, version))
            .filter(course -> course.slug().text().equals(slug));
    if (found.isEmpty() || !Courses.mend(tx, found.get())) return false;
    LOG.warn("the stored line of the course {} was damaged, and is read anew from its file", slug);
    Measuring.coursesChanged(tx, slug);
    return true;
  }

  /** A course by its version, which is the hash of its file's bytes. */
  private static Optional<ReferenceCourse> stored(Tx tx, String version) {
    try {
      return Contents.bytes(tx, version)
          .flatMap(
              bytes ->
                  CourseFile.read(bytes)
                      .fold(good -> Optional.of(good.course()), bad -> Optional.empty()));
    } catch (IllegalStateException e) {
      LOG.warn(
          "the bytes of a course's file, {}, can't be read either: {}", version, e.getMessage());
      return Optional.empty();
    }
  }
}
