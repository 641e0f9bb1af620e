package milewarden.format.fit;

/**
 * CRC-16/ARC: polynomial 0x8005 reflected, start 0. Of "123456789" it is 0xBB3D.
 *
 * @see "Williams (1993), A Painless Guide to CRC Error Detection Algorithms"
 */
final class Crc16 {
  private static final int REFLECTED = 0xA001;
  private static final int[] TABLE = new int[256];

  static {
    for (int b = 0; b < 256; b++) {
      int crc = b;
      for (int bit = 0; bit < 8; bit++) crc = (crc & 1) == 0 ? crc >>> 1 : crc >>> 1 ^ REFLECTED;
      TABLE[b] = crc;
    }
  }

  private Crc16() {}

  /** The checksum of what was summed into {@code crc} and these bytes. */
  static int update(int crc, byte[] bytes, int start, int end) {
    int sum = crc;
    for (int i = start; i < end; i++) sum = sum >>> 8 ^ TABLE[(sum ^ bytes[i]) & 0xff];
    return sum;
  }
}
