package milewarden.course;

import java.util.Locale;
import java.util.Optional;

/**
 * What bounds a pass: the recording itself, started and stopped on the marks, or the gates that the
 * matched chainage passes.
 */
public enum Bounds {
  MARKS,
  GATES;

  /** The name in files and addresses, in lower case with dashes. */
  public String code() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Optional<Bounds> of(String text) {
    String wanted = text.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    for (Bounds value : values()) if (value.name().equals(wanted)) return Optional.of(value);
    return Optional.empty();
  }
}
