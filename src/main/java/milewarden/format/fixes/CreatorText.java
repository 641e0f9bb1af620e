package milewarden.format.fixes;

import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.track.DeviceClaim;

/** What a file's creator text says: a name, and behind it perhaps a version. */
public final class CreatorText {
  /** {@code Trail Box 2.10.3}, {@code Trail Box v2.1-beta}; a bare number belongs to the name. */
  private static final Pattern WITH_VERSION =
      Pattern.compile("(.+?)[\\s,;:/]+[vV]?(\\d+(?:\\.\\d+)+[\\w.+-]*)");

  private static final Pattern BLANKS = Pattern.compile("[\\s\\p{Cntrl}]+");
  private static final int LONGEST = 200;

  private CreatorText() {}

  /** The claim of a {@code device} element: attributes name, code, serial, software. */
  public static DeviceClaim claim(UnaryOperator<String> attribute) {
    return new DeviceClaim(
        cleaned(attribute.apply("name")),
        cleaned(attribute.apply("code")),
        cleaned(attribute.apply("serial")),
        cleaned(attribute.apply("software")));
  }

  /** One line of at most 200 characters; empty where nothing is left. */
  public static Optional<String> cleaned(String found) {
    String text = BLANKS.matcher(found).replaceAll(" ").strip();
    if (text.length() > LONGEST) text = text.substring(0, LONGEST).strip();
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }

  public static DeviceClaim claim(String creator) {
    String text = cleaned(creator).orElse("");
    if (text.isEmpty()) return DeviceClaim.NONE;
    Matcher m = WITH_VERSION.matcher(text);
    boolean version = m.matches();
    return new DeviceClaim(
        Optional.of(version ? m.group(1) : text),
        Optional.empty(),
        Optional.empty(),
        version ? Optional.of(m.group(2)) : Optional.empty());
  }
}
