package milewarden.format.fixes;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Eight bytes of ASCII looked at in one step, as one number whose lowest byte is the first.
 *
 * @see "Warren (2013), Hacker's Delight, 2nd edition, section 6-1: find the first 0-byte"
 */
public final class EightBytes {
  /** What a buffer has behind its last byte, so that eight can be read from anywhere in it. */
  public static final int BEHIND = 7;

  private static final VarHandle EIGHT =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);
  private static final long ONES = 0x0101010101010101L;
  private static final long SEVEN_BITS = 0x7f * ONES;
  private static final long EIGHTH_BITS = 0x8080_8080_8080_8080L;

  private static final long ZEROS = '0' * ONES;
  private static final long UPPER_HALVES = 0xf0f0_f0f0_f0f0_f0f0L;
  // The lower half of each pair, and of each four.
  private static final long TWOS = 0x00ff_00ff_00ff_00ffL;
  private static final long FOURS = 0x0000_ffff_0000_ffffL;

  private EightBytes() {}

  /** The bytes from there on; those from the end on are 0. */
  public static long of(byte[] bytes, int at, int end) {
    long eight = (long) EIGHT.get(bytes, at);
    int count = end - at;
    return count >= 8 ? eight : eight & (1L << 8 * count) - 1;
  }

  /** A sign in each of the eight places. */
  public static long each(char sign) {
    return sign * ONES;
  }

  /** The eighth bit of each byte that is this sign, and no other; for bytes of ASCII. */
  public static long where(long eight, long each) {
    // Of seven bits only 0 stays below 128 when 127 is added, and none carries into the next.
    return ~((eight ^ each) + SEVEN_BITS) & EIGHTH_BITS;
  }

  /** The number of the first byte that was found. */
  public static int first(long found) {
    return Long.numberOfTrailingZeros(found) >>> 3;
  }

  /** One bit for each of the eight bytes, the lowest for the first. */
  public static long bits(long found) {
    // Bit 8p goes to 56 + p, once for each p; what the product has elsewhere is below or beyond.
    return (found >>> 7) * 0x0102_0408_1020_4080L >>> 56;
  }

  /** All bits of the bytes before the first that was found. */
  public static long before(long found) {
    return (Long.lowestOneBit(found) >>> 7) - 1;
  }

  /** The exclusive or of the eight. */
  public static int exclusiveOr(long eight) {
    long four = eight ^ eight >>> 32;
    long two = four ^ four >>> 16;
    return (int) (two ^ two >>> 8) & 0xff;
  }

  /** The number that the first bytes write, eight digits at most; -1 where one is no digit. */
  public static long digits(long eight, int count) {
    // They go to the upper end, behind as many zeros as make eight digits of them; in two halves,
    // since a shift by 64 would be one by 0.
    int half = 4 * (8 - count);
    long text = eight << half << half | ZEROS >>> 4 * count >>> 4 * count;
    // Of the signs 0x30 to 0x3f only the digits stay there when 6 is added.
    long upper = (text ^ ZEROS) | (text + 6 * ONES ^ ZEROS);
    if ((upper & UPPER_HALVES) != 0) return -1;
    long ones = text - ZEROS;
    long twos = (ones * 10 + (ones >>> 8)) & TWOS;
    long fours = (twos * 100 + (twos >>> 16)) & FOURS;
    return (fours * 10_000 + (fours >>> 32)) & 0xffff_ffffL;
  }

  public static boolean areAscii(byte[] bytes, int from, int to) {
    long all = 0;
    for (int i = from; i < to; i += 8) all |= of(bytes, i, to);
    return (all & EIGHTH_BITS) == 0;
  }
}
