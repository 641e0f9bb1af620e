package milewarden.intake;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import milewarden.format.fixes.ReadLimits;
import milewarden.matching.CourseChoice;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.Standings.Standing;

/** Sentences about what became of a file: what, where, what to do. */
final class IntakeWords {
  private static final double METRES_UP_TO = 10_000;
  static final String BEYOND_MEMORY = "too-little-memory";
  private static final long MOST_MEGABYTES = ReadLimits.DEFAULT.bytes() >> 20;

  private IntakeWords() {}

  static String noCourse(Optional<CourseChoice.Nearest> nearest) {
    if (nearest.isEmpty())
      return "There is no reference course yet to measure it against. Put a course file into the"
          + " courses' folder; this recording is then measured by itself.";
    if (nearest.get().isOnLine())
      return "It follows "
          + nearest.get().slug()
          + ", "
          + away(nearest.get().distanceM())
          + " from its line, on too little of it to know the course by. Name the course here, or add"
          + " the one that it was run on; it is then measured by itself.";
    return "It lies on no known course; the nearest is "
        + nearest.get().slug()
        + ", "
        + away(nearest.get().distanceM())
        + " away. Add the course that it was run on, or name one here; it is then measured by"
        + " itself.";
  }

  private static String away(double metres) {
    return metres < METRES_UP_TO
        ? Math.round(metres) + " m"
        : String.format(Locale.ROOT, "%,d km", Math.round(metres / 1000));
  }

  static String noPass(String course) {
    return "It makes no whole pass of "
        + course
        + ". Name another course here, or begin before the first mark and end after the last.";
  }

  static Reason stumbled(Throwable why) {
    return new Reason(
        "stumbled",
        "",
        "Milewarden stumbled over this file ("
            + why
            + "). Its bytes are kept; please report the mistake with the file.");
  }

  /** Beyond what any reader takes: known by its size alone, and not copied into the store. */
  static Reason tooLarge() {
    return new Reason(
        "too-large",
        "",
        "This is larger than "
            + MOST_MEGABYTES
            + " MB, which no recording is. It was not copied into the store; the file itself is"
            + " kept: in the folder refused, if it came by the inbox. Cut it into parts, or export"
            + " it anew, and put those in.");
  }

  static Reason beyondMemory() {
    return new Reason(
        BEYOND_MEMORY,
        "",
        "To measure this recording the server has too little memory. Its bytes are kept. Start it"
            + " with more (`java -Xmx2g -jar ...`) and put the file in again, or cut the recording"
            + " into parts.");
  }

  static Reason tooLargeASheet(long most) {
    return new Reason(
        "too-large",
        "",
        "This is larger than "
            + (most >> 20)
            + " MB, which no field sheet and no file of tags is. Its bytes are kept. If it is a"
            + " recording, give it another name and put it in again.");
  }

  static String noTime() {
    return "It carries no time, and nothing says its date. Fill in the date here or in session.csv.";
  }

  /** Remark on a recording that is no run. */
  static Reason keptAsReference(String session) {
    return new Reason(
        "reference-track",
        "",
        "Kept as the reference track of session "
            + session
            + ": the positions of its other recordings are held against it on their pages.");
  }

  /** What became of files that were worked off together, for the log. */
  static String workedOff(Map<Standing, Integer> fates, Duration took) {
    int all = fates.values().stream().mapToInt(n -> n).sum();
    List<String> each = new ArrayList<>();
    fates.forEach((standing, n) -> each.add(n + " " + fate(standing)));
    return String.format(
        Locale.ROOT,
        "took in %d %s in %.1f s: %s",
        all,
        all == 1 ? "file" : "files",
        took.toMillis() / 1000.0,
        String.join(", ", each));
  }

  private static String fate(Standing standing) {
    return switch (standing) {
      case RECEIVED -> "to be measured again";
      case MEASURED -> "measured";
      case WAITING -> "waiting";
      case OFF_COURSE -> "waiting for a course";
      case REFUSED -> "refused";
      case DUPLICATE -> "that came before";
    };
  }
}
