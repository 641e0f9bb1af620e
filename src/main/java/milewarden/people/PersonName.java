package milewarden.people;

import java.text.Normalizer;
import java.util.Locale;
import java.util.Optional;

/** The name of a person or a token: what can stand in a page, a log line and a file. */
public record PersonName(String text) {
  // Common practice, no source: enough for anybody's name.
  private static final int LONGEST = 60;

  public PersonName {
    if (refusal(text).isPresent()) throw new IllegalArgumentException(refusal(text).get());
  }

  /** Composed, without spaces at its ends. */
  public static PersonName of(String given) {
    return new PersonName(plain(given));
  }

  /** Why it is no name, in a sentence; empty where it is one. */
  public static Optional<String> refusal(String given) {
    String name = plain(given);
    if (name.isEmpty()) return Optional.of("A name is missing.");
    if (name.length() > LONGEST)
      return Optional.of("A name may have " + LONGEST + " characters at most.");
    // No line break, no mark that turns the direction of writing, nothing that is not seen.
    if (!name.codePoints().allMatch(PersonName::isPlain))
      return Optional.of(
          "A name may hold letters, digits, spaces and any of . - _ ' only: take the rest out.");
    return Optional.empty();
  }

  private static boolean isPlain(int c) {
    return Character.isLetterOrDigit(c)
        || Character.getType(c) == Character.NON_SPACING_MARK
        || " .-_'\u2019".indexOf(c) >= 0;
  }

  private static String plain(String given) {
    return Normalizer.normalize(given, Normalizer.Form.NFC).strip();
  }

  /** By which it is found: nobody is told apart by capitals alone. */
  public String key() {
    return text.toLowerCase(Locale.ROOT);
  }
}
