package milewarden.intake.tag;

import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import milewarden.report.DamageWords;
import milewarden.report.Words;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** Sentences about tags that are missing or not understood: what, and what to write. */
public final class GapWords {
  /** What the names of folders can say: inbox/unit/firmware/carriage. */
  private static final Set<TagName> FOLDERS =
      EnumSet.of(TagName.UNIT, TagName.FIRMWARE, TagName.CARRIAGE);

  private GapWords() {}

  /** What a waiting file is asked for. */
  public static String of(List<Gap> gaps) {
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

  /**
   * The same, with what else may be meant by what was said.
   *
   * @param words of all sources
   */
  public static String of(List<Gap> gaps, List<TagWords> words) {
    boolean noUnit = gaps.stream().anyMatch(g -> g.name() == TagName.UNIT);
    if (!noUnit || TagSettling.settle(words).value(TagName.MODEL).isPresent()) return of(gaps);
    // Who named a folder may have meant a device by it, or a day.
    return of(gaps)
        + words.stream()
            .filter(w -> w.source() == TagSource.FOLDER)
            .flatMap(w -> FolderTags.alone(w.origin()).stream())
            .map(GapWords::alone)
            .findFirst()
            .orElse("");
  }

  /**
   * Of a recording that fits no course, whatever else it lacks, after a space: both are answered at
   * once. Empty text where it lacks nothing else.
   */
  public static String beside(List<Gap> gaps, List<TagWords> words) {
    List<Gap> others = gaps.stream().filter(g -> g.name() != TagName.COURSE).toList();
    return others.isEmpty() ? "" : " " + of(others, words);
  }

  private static String alone(String folder) {
    return " Its folder “"
        + folder
        + "” is no unit or model that is known: if it is one, write it as the unit.";
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
      case UNREAD -> DamageWords.waitsForCourse(gap.detail());
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
          "Write as-read, local, what is to be added to its times in whole or quarter hours or in"
              + " days, -02:00 or +12 days 07:20, or when it began: began 2026-05-12 07:05.";
      case COLUMNS -> "Write the column's number and its unit, use or skip: 5=km; 7=skip.";
      case EXCLUDED_REASON ->
          "Write wrong-course, wrong-settings, interrupted, device-fault, no-fix, crash or lost-file.";
      default -> "Write a number with a decimal point.";
    };
  }

  private static String label(TagName name) {
    return name.code().replace('_', ' ');
  }
}
