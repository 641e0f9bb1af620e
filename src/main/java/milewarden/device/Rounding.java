package milewarden.device;

import java.util.Locale;
import java.util.Optional;

/** What a display does with the digits that it does not show. */
public enum Rounding {
  ROUNDED,
  TRUNCATED,
  UNKNOWN;

  /** The name in files and addresses: {@code truncated}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Rounding> of(String text) {
    return Codes.find(values(), text);
  }
}
