package milewarden.format.fit;

import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** The message read last: its bytes and how they are laid out. Reused from message to message. */
final class FitMessage {
  /** Stands for a field that is not there, or holds its type's mark of "no value". */
  static final long NONE = Long.MIN_VALUE;

  private FitDefinition definition = new FitDefinition(0xffff, false);
  private byte[] bytes = new byte[256];

  /** Makes room for a message of this kind and gives it. */
  byte[] fill(FitDefinition kind) {
    definition = kind;
    if (bytes.length < kind.length()) bytes = new byte[kind.length()];
    return bytes;
  }

  int number() {
    return definition.message();
  }

  /** The whole number in a field, the first where it is an array; {@link #NONE} where none is. */
  long value(int field) {
    if (!definition.has(field)) return NONE;
    int type = definition.type(field);
    int size = FitDefinition.sizeOf(type);
    if (size == 0 || definition.size(field) < size) return NONE;
    long raw = raw(definition.offset(field), size);
    return switch (type) {
      // enum, uint8, byte: all bits set is no value.
      case 0, 2, 13 -> raw == 0xff ? NONE : raw;
      case 1 -> raw == 0x7f ? NONE : (byte) raw;
      case 3 -> raw == 0x7fff ? NONE : (short) raw;
      case 4 -> raw == 0xffff ? NONE : raw;
      case 5 -> raw == 0x7fff_ffff ? NONE : (int) raw;
      case 6 -> raw == 0xffff_ffffL ? NONE : raw;
      // The "z" types: zero is no value.
      case 10, 11, 12 -> raw == 0 ? NONE : raw;
      default -> NONE;
    };
  }

  /** The bytes of a field as they are, lowest first; {@link #NONE} where it is not there. */
  long packed(int field, int size) {
    if (!definition.has(field) || definition.size(field) < size) return NONE;
    long value = 0;
    boolean allSet = true;
    for (int i = size - 1; i >= 0; i--) {
      int b = bytes[definition.offset(field) + i] & 0xff;
      allSet &= b == 0xff;
      value = value << 8 | b;
    }
    return allSet ? NONE : value;
  }

  /** The text in a field up to its first zero byte; empty where there is none. */
  Optional<String> text(int field) {
    if (!definition.has(field) || definition.type(field) != FitDefinition.STRING)
      return Optional.empty();
    int start = definition.offset(field);
    int end = start;
    while (end < start + definition.size(field) && bytes[end] != 0) end++;
    String text = new String(bytes, start, end - start, StandardCharsets.UTF_8).strip();
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }

  private long raw(int offset, int size) {
    long value = 0;
    for (int i = 0; i < size; i++) {
      int at = definition.bigEndian() ? offset + i : offset + size - 1 - i;
      value = value << 8 | bytes[at] & 0xff;
    }
    return value;
  }
}
