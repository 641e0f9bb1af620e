package milewarden.report;

/** A state in a word, with the tone that gives its shape and colour. */
public record Status(String word, Tone tone) {
  public static Status holds(String word) {
    return new Status(word, Tone.HOLDS);
  }

  public static Status watch(String word) {
    return new Status(word, Tone.WATCH);
  }

  public static Status broken(String word) {
    return new Status(word, Tone.BROKEN);
  }

  public static Status unknown(String word) {
    return new Status(word, Tone.UNKNOWN);
  }
}
