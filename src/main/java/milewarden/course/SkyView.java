package milewarden.course;

import java.util.Locale;
import java.util.Optional;

/** How much of the sky the course sees; the site class of a condition. */
public enum SkyView {
  OPEN,
  PARTLY_OPEN,
  OBSTRUCTED;

  /** The name in files and addresses, in lower case with dashes. */
  public String code() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Optional<SkyView> of(String text) {
    String wanted = text.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    for (SkyView value : values()) if (value.name().equals(wanted)) return Optional.of(value);
    return Optional.empty();
  }
}
