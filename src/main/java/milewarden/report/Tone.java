package milewarden.report;

/** How a state stands: always shown as a word and a shape, never by colour alone. */
public enum Tone {
  HOLDS,
  WATCH,
  BROKEN,
  UNKNOWN;

  /** The class in the stylesheet. */
  public String code() {
    return name().toLowerCase(java.util.Locale.ROOT);
  }
}
