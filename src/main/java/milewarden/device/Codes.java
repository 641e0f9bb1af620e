package milewarden.device;

import java.util.Locale;
import java.util.Optional;

/** Finds an enum's constant by its code as people write it: any case, space, dash or underscore. */
final class Codes {
  private Codes() {}

  static <E extends Enum<E>> Optional<E> find(E[] values, String text) {
    String wanted = text.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    for (E value : values) if (value.name().equals(wanted)) return Optional.of(value);
    return Optional.empty();
  }
}
