package milewarden.intake.drop;

/** Sentences about what can't be taken in as it lies there: what, where, what to do. */
public final class DropWords {
  private DropWords() {}

  static String link(String path) {
    return path + " is a link to somewhere else. Copy the file itself into the inbox.";
  }

  static String special(String path) {
    return path + " is no ordinary file. Take it out of the inbox.";
  }

  public static String unreadable(String path, String why) {
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
}
