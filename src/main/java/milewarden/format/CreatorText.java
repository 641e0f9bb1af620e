package milewarden.format;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.track.DeviceClaim;

/** What a file's creator text says: a name, and behind it perhaps a version. */
final class CreatorText {
  /** {@code Trail Box 2.10.3}, {@code Trail Box v2.1-beta}; a bare number belongs to the name. */
  private static final Pattern WITH_VERSION =
      Pattern.compile("(.+?)[\\s,;:/]+[vV]?(\\d+(?:\\.\\d+)+[\\w.+-]*)");

  private static final int LONGEST = 200;

  private CreatorText() {}

  static DeviceClaim claim(String creator) {
    String text = creator.replaceAll("[\\s\\p{Cntrl}]+", " ").strip();
    if (text.length() > LONGEST) text = text.substring(0, LONGEST).strip();
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
