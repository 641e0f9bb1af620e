package milewarden.store;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** How values stand in the tables: one way for each type, so that they sort and compare. */
public final class Codes {
  // Three digits always: Instant.toString drops zeros, and "00Z" would then sort behind "00.5Z".
  private static final DateTimeFormatter INSTANT =
      DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss.SSS'Z'", Locale.ROOT)
          .withZone(ZoneOffset.UTC);

  private Codes() {}

  public static String text(Instant at) {
    return INSTANT.format(at);
  }

  /** {@code swing-left} for SWING_LEFT. */
  static String code(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  static <E extends Enum<E>> E constant(Class<E> type, String code) {
    return Enum.valueOf(type, code.toUpperCase(Locale.ROOT).replace('-', '_'));
  }
}
