package milewarden.intake.drop;

import java.util.Locale;
import milewarden.store.file.ReceivedFiles.Kind;

/** What a dropped file's name tells, and how it is shown. */
public final class DroppedName {
  /** Behind a track's whole name: the file of its tags. */
  public static final String SIDECAR = ".tags.yaml";

  private DroppedName() {}

  /**
   * A name without what a page, a log or a terminal would obey: control characters, marks that turn
   * the direction of writing, halves of surrogate pairs.
   */
  public static String shown(String name) {
    StringBuilder safe = new StringBuilder();
    name.codePoints()
        .forEach(
            c -> {
              int type = Character.getType(c);
              boolean obeyed =
                  type == Character.CONTROL
                      || type == Character.FORMAT
                      || type == Character.SURROGATE
                      || type == Character.LINE_SEPARATOR
                      || type == Character.PARAGRAPH_SEPARATOR
                      || c == '\\';
              safe.appendCodePoint(obeyed ? '_' : c);
            });
    return safe.toString();
  }

  /** What it is taken for, by its name alone. */
  public static Kind kind(String path) {
    String name = path.substring(path.lastIndexOf('/') + 1).toLowerCase(Locale.ROOT);
    if (name.endsWith(SIDECAR)) return Kind.SIDECAR;
    return name.equals("session.csv") ? Kind.SHEET : Kind.TRACK;
  }
}
