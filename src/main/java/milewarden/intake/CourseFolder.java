package milewarden.intake;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.course.CourseRead;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.intake.drop.DropFolder;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.intake.drop.DropWords;
import milewarden.intake.drop.StandStill;
import milewarden.report.CourseWords;
import milewarden.report.Said;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.run.Courses;

/**
 * The courses' folder is the truth: a file added or changed there becomes a version in force; a bad
 * one is refused with its reasons while the last good version stays.
 */
public final class CourseFolder {
  // No line of a course needs more; a file that is larger was put there by mistake.
  private static final long LARGEST_BYTES = 16L << 20;

  private final DropFolder folder;
  private final StandStill standStill;
  private final Database database;
  private final InstantSource clock;
  private final Runnable changed;
  private Set<Seen> read = new HashSet<>();
  // Paths that this process has read before: what changes there is changed on purpose.
  private final Set<String> paths = new HashSet<>();
  // Which file a course came from in this folder: two files of one slug would take turns.
  private final Map<String, String> fileOfSlug = new HashMap<>();

  /**
   * @param changed called after a version came into force: its runs are to be measured again
   */
  public CourseFolder(
      Path folder, Duration standStill, Database database, InstantSource clock, Runnable changed) {
    this.folder = new DropFolder(folder);
    this.standStill = new StandStill(standStill);
    this.database = database;
    this.clock = clock;
    this.changed = changed;
  }

  /** Looks through the folder once. */
  public void sweep() {
    List<Seen> files = courseFiles();
    Set<Seen> next = new HashSet<>(files);
    next.retainAll(read);
    fileOfSlug.values().retainAll(files.stream().map(Seen::path).toList());
    boolean any = false;
    for (Seen seen : standStill.of(files, clock.instant())) {
      if (next.contains(seen)) continue;
      any |= take(seen);
      next.add(seen);
    }
    read = next;
    if (any) changed.run();
  }

  private List<Seen> courseFiles() {
    try {
      return folder.look().files().stream().filter(CourseFolder::isCourse).toList();
    } catch (IOException e) {
      throw new UncheckedIOException("the courses' folder " + folder.root(), e);
    }
  }

  private static boolean isCourse(Seen seen) {
    String name = seen.path().toLowerCase(Locale.ROOT);
    return name.endsWith(".geojson") || name.endsWith(".json");
  }

  private boolean take(Seen seen) {
    if (seen.sizeBytes() > LARGEST_BYTES)
      return refuse(seen, List.of(problem("", "This is larger than a course can be.")));
    byte[] bytes;
    try {
      bytes = Files.readAllBytes(seen.file());
    } catch (IOException e) {
      return refuse(seen, List.of(problem("", DropWords.unreadable(seen.path(), e.toString()))));
    }
    return CourseFile.read(bytes)
        .fold(
            good -> accept(seen, bytes, good),
            bad -> refuse(seen, bad.issues().stream().map(CourseWords::of).toList()));
  }

  private boolean accept(Seen seen, byte[] bytes, CourseRead.Usable good) {
    String slug = good.course().slug().text();
    String other = fileOfSlug.putIfAbsent(slug, seen.path());
    if (other != null && !other.equals(seen.path()))
      return refuse(
          seen,
          List.of(
              problem(
                  "/slug",
                  "The slug " + slug + " is that of " + other + " already. Give each its own.")));
    boolean seenBefore = !paths.add(seen.path());
    List<String> notices = good.notices().stream().map(n -> CourseWords.of(n).sentence()).toList();
    Contents.Packed packed = Contents.pack(bytes);
    return database.write(
        tx -> {
          boolean mended = Courses.mend(tx, good.course());
          Optional<Courses.Known> newer = seenBefore ? Optional.empty() : newer(tx, good.course());
          if (newer.isPresent()) {
            Courses.problems(tx, seen.path(), problems(tx, seen, List.of(outdated(newer.get()))));
            return false;
          }
          Courses.problems(tx, seen.path(), List.of());
          boolean isNew = Courses.put(tx, good.course(), seen.path(), packed, notices);
          if (isNew || mended) Measuring.coursesChanged(tx, slug);
          return isNew || mended;
        });
  }

  /**
   * The version in force, where a station that starts finds an earlier one in its folder: its copy
   * is old, and a published figure must not move because a server was started.
   */
  private Optional<Courses.Known> newer(Tx tx, ReferenceCourse course) {
    if (database.station().isEmpty()) return Optional.empty();
    boolean known =
        Courses.version(tx, course.slug().text(), course.version())
            .filter(k -> !k.inForce())
            .isPresent();
    return known ? Courses.find(tx, course.slug()) : Optional.empty();
  }

  private static Said outdated(Courses.Known newer) {
    return problem(
        "",
        "This is an earlier version of the course than the one in force, which came from "
            + newer.fileName()
            + " of another station. Put that file here; to go back on purpose, save this one anew"
            + " while the server runs.");
  }

  private boolean refuse(Seen seen, List<Said> why) {
    database.change(tx -> Courses.problems(tx, seen.path(), problems(tx, seen, why)));
    return false;
  }

  private static List<Courses.Problem> problems(Tx tx, Seen seen, List<Said> why) {
    List<Courses.Problem> problems = new ArrayList<>();
    for (Said said : why)
      problems.add(new Courses.Problem(seen.path(), said.where(), said.sentence(), tx.now()));
    return problems;
  }

  private static Said problem(String where, String what) {
    return new Said(what, where, "");
  }
}
