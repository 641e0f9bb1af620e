package milewarden.intake;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.intake.tag.Gap;
import milewarden.matching.CourseChoice;
import milewarden.report.Words;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.track.TagName;

/** Sentences about what became of a file: what, where, what to do. */
final class IntakeWords {
  /** What the names of folders can say: inbox/unit/firmware/carriage. */
  private static final Set<TagName> FOLDERS =
      EnumSet.of(TagName.UNIT, TagName.FIRMWARE, TagName.CARRIAGE);

  private IntakeWords() {}

  /** What a waiting file is asked for. */
  static String of(List<Gap> gaps) {
    List<String> missing =
        gaps.stream().filter(g -> g.kind() == Gap.Kind.MISSING).map(g -> label(g.name())).toList();
    StringBuilder text = new StringBuilder();
    if (!missing.isEmpty())
      text.append("Nothing says its ")
          .append(Words.list(missing))
          .append(
              gaps.stream().anyMatch(g -> FOLDERS.contains(g.name()))
                  ? ". Fill it in here, in session.csv or by the folder's name."
                  : ". Fill it in here or in session.csv.");
    for (Gap gap : gaps)
      if (gap.kind() != Gap.Kind.MISSING) text.append(text.isEmpty() ? "" : " ").append(of(gap));
    return text.toString();
  }

  private static String of(Gap gap) {
    String tag = label(gap.name());
    return switch (gap.kind()) {
      case MISSING -> "Nothing says its " + tag + ".";
      case NOT_UNDERSTOOD ->
          "Its " + tag + " reads “" + gap.detail() + "”, which is not understood. " + allowed(gap);
      case UNKNOWN ->
          "No "
              + tag
              + " is known by the name “"
              + gap.detail()
              + "”. Put its file into the courses' folder, or name another one.";
      case AMBIGUOUS ->
          gap.name() == TagName.DIRECTION
              ? "Its positions fit the course in both directions. Say which it was: forward or"
                  + " reverse."
              : "Its positions fit several courses equally well: "
                  + gap.detail()
                  + ". Say which it was.";
    };
  }

  private static String allowed(Gap gap) {
    return switch (gap.name()) {
      case CARRIAGE -> "Write fixed, hand, swing-left, swing-right, pocket, pack or handlebar.";
      case GAIT -> "Write walk, run or ride.";
      case DIRECTION -> "Write forward or reverse.";
      case BOUNDS -> "Write marks or gates.";
      case ROUNDING -> "Write rounded, truncated or unknown.";
      case CONTROL -> "Write yes or no.";
      case LAPS -> "Write a whole number of 1 or more.";
      case DATE -> "Write it as 2026-05-12.";
      case TIME -> "Write it as 07:05.";
      case SHOWN_UNIT -> "Write m, km, ft, yd or mi.";
      case SETTINGS_CHECK -> "Write as-found, as-stated or wrong.";
      case CLOCK ->
          "Write as-read, local, or what is to be added to its times in whole or quarter hours:"
              + " -02:00.";
      case COLUMNS -> "Write the column's number and its unit, use or skip: 5=km; 7=skip.";
      case EXCLUDED_REASON ->
          "Write wrong-course, wrong-settings, interrupted, device-fault, no-fix, crash or lost-file.";
      default -> "Write a number with a decimal point.";
    };
  }

  static String noCourse(Optional<CourseChoice.Nearest> nearest) {
    if (nearest.isEmpty())
      return "There is no reference course yet to measure it against. Put a course file into the"
          + " courses' folder; this recording is then measured by itself.";
    return "It lies on no known course; the nearest is "
        + nearest.get().slug()
        + ", "
        + Math.round(nearest.get().distanceM())
        + " m away. Add the course that it was run on, or name one here; it is then measured by"
        + " itself.";
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

  static String noTime() {
    return "It carries no time, and nothing says its date. Fill in the date here or in session.csv.";
  }

  static String sheetNeeds(int row, List<Gap> gaps) {
    return "Row " + row + ": " + Words.list(gaps.stream().map(g -> label(g.name())).toList());
  }

  static String link(String path) {
    return path + " is a link to somewhere else. Copy the file itself into the inbox.";
  }

  static String special(String path) {
    return path + " is no ordinary file. Take it out of the inbox.";
  }

  static String unreadable(String path, String why) {
    return path
        + " can't be read ("
        + why
        + "). Give the user who runs Milewarden the right to read it, or close the program that"
        + " holds it; it is tried again by itself.";
  }

  static String unmovable(String path, String why) {
    return path
        + " is safe in the store but can't be moved out of the inbox ("
        + why
        + "). Give the user who runs Milewarden the right to write there; it is tried again by"
        + " itself.";
  }

  static String growing(String path) {
    return path + " is still being written. Take the folder in again when it is whole.";
  }

  static String tooLarge(String path, long megabytes) {
    return path
        + " is larger than "
        + megabytes
        + " MB, which no recording is. Take it out of the inbox, or cut it into parts.";
  }

  static String tooLargeHere(String path, long megabytes) {
    return path
        + " is larger than "
        + megabytes
        + " MB, for which this server has too little memory. Start it with more (`java -Xmx2g"
        + " -jar ...`), or cut the file into parts; it stays where it is.";
  }

  static String label(TagName name) {
    return name.code().replace('_', ' ');
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
  static String workedOff(Map<ReceivedFiles.State, Integer> fates, Duration took) {
    int all = fates.values().stream().mapToInt(n -> n).sum();
    List<String> each = new ArrayList<>();
    fates.forEach((state, n) -> each.add(n + " " + fate(state)));
    return String.format(
        Locale.ROOT,
        "took in %d %s in %.1f s: %s",
        all,
        all == 1 ? "file" : "files",
        took.toMillis() / 1000.0,
        String.join(", ", each));
  }

  private static String fate(ReceivedFiles.State state) {
    return switch (state) {
      case RECEIVED -> "to be measured again";
      case MEASURED -> "measured";
      case WAITING -> "waiting";
      case REFUSED -> "refused";
      case DUPLICATE -> "that came before";
    };
  }
}
