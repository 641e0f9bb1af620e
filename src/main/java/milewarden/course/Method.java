package milewarden.course;

import java.util.Locale;
import java.util.Optional;

/** How the course's length was measured. */
public enum Method {
  WHEEL,
  CALIBRATED_BICYCLE,
  STEEL_TAPE,
  SURVEY,
  STANDARD_TRACK;

  /** The name in files and addresses, in lower case with dashes. */
  public String code() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Optional<Method> of(String text) {
    String wanted = text.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    for (Method value : values()) if (value.name().equals(wanted)) return Optional.of(value);
    return Optional.empty();
  }
}
