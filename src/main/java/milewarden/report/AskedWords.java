package milewarden.report;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;

/** Questions about a file that leaves its times or its columns open, and what can be answered. */
public final class AskedWords {
  private static final char MINUS = '\u2212';
  private static final String KEPT = " The file itself stays as it came.";

  private AskedWords() {}

  /** Of a recording that begins so many days after it came in. */
  public static String ahead(long days) {
    return "it begins "
        + String.format(Locale.ROOT, "%,d", days)
        + (days == 1 ? " day" : " days")
        + " after it came in";
  }

  public static String rollover(LocalDate read, LocalDate meant, long weeks) {
    return "Its first position is of "
        + read
        + ". Receivers count weeks up to 1,024 and then begin again; "
        + String.format(Locale.ROOT, "%,d", weeks)
        + " weeks later would be "
        + meant
        + ". Say whether its times are to be moved by that."
        + KEPT;
  }

  /**
   * @param zone as the settings name it
   */
  public static String withoutZone(String zone) {
    return "Its times name no time zone and were read as UTC. Say whether they are local times ("
        + zone
        + ")."
        + KEPT;
  }

  /** A file without a zone, and a field sheet that tells when it was begun. */
  public static String withoutZone(Duration by) {
    return "Its times name no time zone and were read as UTC; by the time that is written down for"
        + " it, they are off by a whole clock zone. Say whether to move them by "
        + hours(by)
        + "."
        + KEPT;
  }

  public static String againstSheet(Duration by) {
    return "It begins "
        + hours(by.abs()).substring(1)
        + (by.isNegative() ? " later" : " earlier")
        + " than is written down for it, as if its clock stood in another zone. Say whether to move"
        + " its times by "
        + hours(by)
        + "."
        + KEPT;
  }

  public static String againstSession(Duration by, String session) {
    return "Its times lie far from the other recordings of session "
        + session
        + "; moved by "
        + hours(by)
        + " it begins with another of them. Say whether its clock stood wrong. If the others are"
        + " wrong and this one is right, answer that it is right, and correct them."
        + KEPT;
  }

  public static String withoutDate() {
    return "Its log gives times of day and no date. Fill in its date here or in session.csv."
        + KEPT;
  }

  /**
   * @param subjects such as {@code column 5, “Distance”}
   */
  public static String columns(List<String> subjects) {
    return "It can be read in more than one way: "
        + Words.list(subjects)
        + ". Say what is meant; nothing of it is guessed."
        + KEPT;
  }

  /** What was done to the times, without an end to the sentence: {@code by +2:00 h}. */
  public static String moved(Duration by) {
    return "by " + (by.abs().compareTo(Duration.ofHours(26)) > 0 ? days(by) : hours(by));
  }

  /** An answer as it is chosen: its code as the field sheet writes it. */
  public static String answer(String code) {
    return switch (code) {
      case "as-read" -> "its times are right as they were read";
      case "local" -> "they are local times";
      case "dates=day-first" -> "the day comes first";
      case "dates=month-first" -> "the month comes first";
      default -> code.indexOf('=') < 0 ? "move its times by " + signed(code) : column(code);
    };
  }

  private static String column(String code) {
    String what = code.substring(code.indexOf('=') + 1);
    return switch (what) {
      case "skip" -> "do not use it";
      case "use" -> "use it, and not the earlier column";
      default -> "it is in " + what;
    };
  }

  private static String signed(String code) {
    String unit = code.indexOf(':') > 0 ? " h" : "";
    return code.replace('-', MINUS) + unit;
  }

  private static String hours(Duration by) {
    Duration size = by.abs();
    return signOf(by)
        + String.format(Locale.ROOT, "%d:%02d h", size.toHours(), size.toMinutesPart());
  }

  private static String days(Duration by) {
    Duration size = by.abs();
    Duration beyond = size.minusDays(size.toDays());
    String days = signOf(by) + size.toDays() + (size.toDays() == 1 ? " day" : " days");
    if (beyond.isZero()) return days;
    return days
        + String.format(Locale.ROOT, " and %d:%02d h", beyond.toHours(), beyond.toMinutesPart());
  }

  private static String signOf(Duration by) {
    return by.isNegative() ? "" + MINUS : "+";
  }
}
