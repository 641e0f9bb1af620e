package milewarden.store.file;

import java.io.InputStream;
import java.util.Optional;
import java.util.function.Function;

/** Deflated bytes, part after part as they are asked for. */
final class PartStream extends InputStream {
  private final String name;
  private final Function<Integer, Optional<byte[]>> parts;
  private byte[] part;
  private int number;
  private int at;

  /**
   * @param name in words for people
   * @param first part 0
   * @param parts by their number from 1 on; empty behind the last
   */
  PartStream(String name, byte[] first, Function<Integer, Optional<byte[]>> parts) {
    this.name = name;
    this.part = first;
    this.parts = parts;
  }

  @Override
  public int read() {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] bytes, int offset, int length) {
    if (length == 0) return 0;
    if (at == part.length) {
      Optional<byte[]> next = parts.apply(number + 1);
      if (next.isEmpty() || next.get().length == 0) return -1;
      number++;
      part = next.get();
      at = 0;
    }
    int n = Math.min(length, part.length - at);
    System.arraycopy(part, at, bytes, offset, n);
    at += n;
    return n;
  }

  @Override
  public String toString() {
    return "part " + number + " of " + name;
  }
}
