package milewarden.format.fit;

import java.io.IOException;
import milewarden.format.fixes.BoundedInput;

/** The bytes of a file one message at a time, counted and summed up. */
final class FitInput {
  private final BoundedInput in;
  private final byte[] buffer = new byte[1 << 14];
  private int at;
  private int end;
  private long before;
  private int crc;

  FitInput(BoundedInput in) {
    this.in = in;
  }

  /** The file ends in the middle of something. */
  static final class BrokenOff extends Exception {
    private static final long serialVersionUID = 1;

    BrokenOff() {
      super("", null, false, false);
    }
  }

  /** Bytes read so far: the place of the next one, counted from 0. */
  long position() {
    return before + at;
  }

  /** The checksum of the bytes since {@link #startSum()}. */
  int sum() {
    return crc;
  }

  void startSum() {
    crc = 0;
  }

  boolean atEnd() throws IOException {
    return at == end && !fill();
  }

  /** The next byte, 0 to 255. */
  int next() throws IOException, BrokenOff {
    if (atEnd()) throw new BrokenOff();
    crc = Crc16.update(crc, buffer, at, at + 1);
    return buffer[at++] & 0xff;
  }

  /** The next {@code length} bytes, into the front of {@code into}. */
  void read(byte[] into, int length) throws IOException, BrokenOff {
    int done = 0;
    while (done < length) {
      if (atEnd()) throw new BrokenOff();
      int n = Math.min(length - done, end - at);
      System.arraycopy(buffer, at, into, done, n);
      crc = Crc16.update(crc, buffer, at, at + n);
      at += n;
      done += n;
    }
  }

  private boolean fill() throws IOException {
    in.progressed();
    before += end;
    at = 0;
    end = 0;
    int n = in.read(buffer, 0, buffer.length);
    if (n > 0) end = n;
    return n > 0;
  }
}
