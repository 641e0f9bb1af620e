package milewarden.format.fit;

import java.io.ByteArrayOutputStream;

/** Writes files of the layout for tests, in the order that a test says. */
final class FitBytes {
  static final int ENUM = 0x00;
  static final int UINT8 = 0x02;
  static final int STRING = 0x07;
  static final int UINT16 = 0x84;
  static final int SINT32 = 0x85;
  static final int UINT32 = 0x86;
  static final int UINT32Z = 0x8c;

  private final ByteArrayOutputStream data = new ByteArrayOutputStream();
  private final int[][][] fields = new int[16][][];
  private final boolean[] big = new boolean[16];

  /** A definition: each field is {number, size, base type}. */
  FitBytes define(int local, int message, boolean bigEndian, int[]... wanted) {
    return define(local, message, bigEndian, new int[0][], wanted);
  }

  FitBytes define(int local, int message, boolean bigEndian, int[][] developer, int[]... wanted) {
    fields[local] = wanted;
    big[local] = bigEndian;
    data.write(0x40 | (developer.length > 0 ? 0x20 : 0) | local);
    data.write(0);
    data.write(bigEndian ? 1 : 0);
    number(message, 2, bigEndian);
    data.write(wanted.length);
    for (int[] f : wanted) for (int b : f) data.write(b);
    if (developer.length > 0) {
      data.write(developer.length);
      for (int[] f : developer) for (int b : f) data.write(b);
    }
    return this;
  }

  FitBytes data(int local, long... values) {
    data.write(local);
    return values(local, values);
  }

  /** A message whose time is five bits in its header. */
  FitBytes compressed(int local, int offset, long... values) {
    data.write(0x80 | local << 5 | offset);
    return values(local, values);
  }

  FitBytes raw(int... bytes) {
    for (int b : bytes) data.write(b);
    return this;
  }

  private FitBytes values(int local, long... values) {
    for (int i = 0; i < values.length; i++) number(values[i], fields[local][i][1], big[local]);
    return this;
  }

  private void number(long value, int size, boolean bigEndian) {
    for (int i = 0; i < size; i++)
      data.write((int) (value >> 8 * (bigEndian ? size - 1 - i : i)) & 0xff);
  }

  /** Header of 14 bytes, the messages, and the checksum over both. */
  byte[] file() {
    return file(data.size());
  }

  byte[] file(int sizeInHeader) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    byte[] header = {14, 0x20, 0x54, 0x08, 0, 0, 0, 0, '.', 'F', 'I', 'T'};
    for (int i = 0; i < 4; i++) header[4 + i] = (byte) (sizeInHeader >> 8 * i);
    out.writeBytes(header);
    // The header's own checksum may be left 0.
    out.write(0);
    out.write(0);
    out.writeBytes(data.toByteArray());
    int sum = bitwise(out.toByteArray());
    out.write(sum & 0xff);
    out.write(sum >> 8);
    return out.toByteArray();
  }

  /** The checksum bit by bit, by its polynomial: not the reader's table. */
  static int bitwise(byte[] bytes) {
    int crc = 0;
    for (byte b : bytes) {
      crc ^= b & 0xff;
      for (int bit = 0; bit < 8; bit++) crc = (crc & 1) == 1 ? crc >> 1 ^ 0xA001 : crc >> 1;
    }
    return crc;
  }
}
