package milewarden.report.pass;

import milewarden.accuracy.Ascent;
import milewarden.report.Digits;

/** What the heights of a pass say. */
public final class AscentWords {
  private AscentWords() {}

  /** One sentence: what was climbed, and what the course has. */
  public static String of(Ascent ascent, Digits digits) {
    return "By the recorded heights it climbs "
        + digits.ground(ascent.trackM())
        + (ascent.courseM().isPresent()
            ? "; the course's profile, " + digits.ground(ascent.courseM().getAsDouble())
            : "; the course has no height profile")
        + ". "
        + counted(ascent, digits)
        + ".";
  }

  /** What counts as a climb. */
  public static String counted(Ascent ascent, Digits digits) {
    return "Climbs of more than " + digits.ground(ascent.deadBandM()) + " count";
  }
}
