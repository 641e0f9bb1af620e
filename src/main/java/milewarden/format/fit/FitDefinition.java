package milewarden.format.fit;

import java.util.Arrays;

/**
 * How the messages of one local kind are laid out, as the file says before the first of them.
 *
 * <p>Fields are known by number; the bytes of developer fields are counted and not looked into.
 */
final class FitDefinition {
  private static final int NOT_THERE = -1;

  /** Bytes of one value by the low five bits of the base type, 0 to 16. */
  private static final int[] SIZES = {1, 1, 1, 2, 2, 4, 4, 1, 4, 8, 1, 2, 4, 1, 8, 8, 8};

  static final int STRING = 7;

  private final int message;
  private final boolean bigEndian;
  private final int[] offsets = new int[256];
  private final int[] sizes = new int[256];
  private final int[] types = new int[256];
  private int length;

  FitDefinition(int message, boolean bigEndian) {
    this.message = message;
    this.bigEndian = bigEndian;
    Arrays.fill(offsets, NOT_THERE);
  }

  /** The next field of the message; the first of two with one number counts. */
  void addField(int number, int size, int baseType) {
    if (offsets[number] == NOT_THERE) {
      offsets[number] = length;
      sizes[number] = size;
      types[number] = baseType & 0x1f;
    }
    length += size;
  }

  void addDeveloperField(int size) {
    length += size;
  }

  /** The global number of the message. */
  int message() {
    return message;
  }

  boolean bigEndian() {
    return bigEndian;
  }

  /** Bytes of a message of this kind, without its header. */
  int length() {
    return length;
  }

  boolean has(int field) {
    return offsets[field] != NOT_THERE;
  }

  int offset(int field) {
    return offsets[field];
  }

  int size(int field) {
    return sizes[field];
  }

  /** The base type's number, 0 to 31; others than 0 to 16 are unknown. */
  int type(int field) {
    return types[field];
  }

  /** Bytes of one value of that type; 0 where it is unknown. */
  static int sizeOf(int type) {
    return type < SIZES.length ? SIZES[type] : 0;
  }
}
