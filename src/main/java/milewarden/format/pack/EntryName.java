package milewarden.format.pack;

import java.util.ArrayList;
import java.util.List;

/** Makes a harmless path of a name from outside. */
public final class EntryName {
  private static final int LONGEST_STEP = 120;
  private static final int MOST_STEPS = 16;

  private EntryName() {}

  /**
   * Steps parted by slashes: no step up, no root, no drive, no control or direction marks, no
   * leading or trailing blanks and points; never empty.
   */
  public static String safe(String name) {
    List<String> steps = new ArrayList<>();
    for (String part : name.split("[/\\\\]+")) {
      String step = step(part);
      if (!step.isEmpty()) steps.add(step);
    }
    int from = Math.max(0, steps.size() - MOST_STEPS);
    String path = String.join("/", steps.subList(from, steps.size()));
    return path.isEmpty() ? "unnamed" : path;
  }

  private static String step(String part) {
    StringBuilder kept = new StringBuilder();
    part.codePoints()
        .filter(EntryName::isHarmless)
        .limit(LONGEST_STEP)
        .forEach(kept::appendCodePoint);
    String text = kept.toString().strip();
    while (text.startsWith(".")) text = text.substring(1).strip();
    while (text.endsWith(".")) text = text.substring(0, text.length() - 1).strip();
    return text;
  }

  private static boolean isHarmless(int c) {
    int type = Character.getType(c);
    // FORMAT holds the marks that turn the direction of a text.
    boolean mark =
        type == Character.CONTROL
            || type == Character.FORMAT
            || type == Character.SURROGATE
            || type == Character.UNASSIGNED
            || type == Character.LINE_SEPARATOR
            || type == Character.PARAGRAPH_SEPARATOR;
    return !mark && ":*?\"<>|".indexOf(c) < 0;
  }

  /** Files that begin with a point, and folders of packers that begin with two low lines. */
  static boolean isHidden(String name) {
    for (String part : name.split("[/\\\\]+"))
      if (part.startsWith("__") || part.startsWith(".") && !part.matches("\\.+")) return true;
    return false;
  }
}
