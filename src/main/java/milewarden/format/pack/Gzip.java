package milewarden.format.pack;

import java.io.ByteArrayInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;

/**
 * What a gzip holds, as a stream; where the packed bytes are damaged or break off, the stream ends
 * there and remembers why.
 *
 * @see "RFC 1952"
 */
public final class Gzip extends InputStream {
  private final InputStream packed;
  private String broken = "";

  private Gzip(InputStream packed) {
    this.packed = packed;
  }

  /** Whether a file that begins so is packed by gzip. */
  public static boolean recognises(byte[] head) {
    return head.length > 2 && (head[0] & 0xff) == 0x1f && (head[1] & 0xff) == 0x8b && head[2] == 8;
  }

  /**
   * @param head the first bytes, taken from {@code rest} before
   * @throws IOException where the stream below fails
   */
  public static Gzip open(byte[] head, InputStream rest) throws IOException {
    InputStream whole = new SequenceInputStream(new ByteArrayInputStream(head), rest);
    try {
      return new Gzip(new GZIPInputStream(whole, 1 << 14));
    } catch (ZipException | EOFException e) {
      Gzip none = new Gzip(InputStream.nullInputStream());
      none.broken = String.valueOf(e.getMessage());
      return none;
    }
  }

  /** Why the stream ended before the packed bytes did; empty where it did not. */
  public String broken() {
    return broken;
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] bytes, int offset, int length) throws IOException {
    if (!broken.isEmpty()) return -1;
    try {
      return packed.read(bytes, offset, length);
    } catch (ZipException | EOFException e) {
      broken = String.valueOf(e.getMessage());
      return -1;
    }
  }
}
