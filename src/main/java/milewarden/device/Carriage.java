package milewarden.device;

import java.util.Locale;
import java.util.Optional;

/** How a unit is carried over the course. */
public enum Carriage {
  FIXED,
  HAND,
  SWING_LEFT,
  SWING_RIGHT,
  POCKET,
  PACK,
  HANDLEBAR;

  /** The name in files and addresses: {@code swing-left}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Optional<Carriage> of(String text) {
    return Codes.find(values(), text);
  }
}
