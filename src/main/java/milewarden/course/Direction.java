package milewarden.course;

import java.util.Locale;
import java.util.Optional;

/** The direction of travel along the course. */
public enum Direction {
  FORWARD,
  REVERSE;

  /** The name in files and addresses, in lower case with dashes. */
  public String code() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Optional<Direction> of(String text) {
    String wanted = text.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    for (Direction value : values()) if (value.name().equals(wanted)) return Optional.of(value);
    return Optional.empty();
  }
}
