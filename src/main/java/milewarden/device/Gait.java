package milewarden.device;

import java.util.Locale;
import java.util.Optional;

/** How the course was covered. */
public enum Gait {
  WALK,
  RUN,
  RIDE;

  /** The name in files and addresses: {@code walk}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Gait> of(String text) {
    return Codes.find(values(), text);
  }
}
