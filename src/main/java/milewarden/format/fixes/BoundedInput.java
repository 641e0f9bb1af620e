package milewarden.format.fixes;

import java.io.IOException;
import java.io.InputStream;
import java.util.Optional;

/**
 * The bytes of a file under a limit, both in all and between two signs of progress; remembers why
 * it stopped, since the parser above tells every failure alike.
 */
public final class BoundedInput extends InputStream {
  /** A single element, comment or text of more bytes than this is no track's: our own bound. */
  private static final long LONGEST_TOKEN = 16L << 20;

  private final InputStream in;
  private final byte[] head;
  private final long limit;
  private int headAt;
  private long count;
  private long progress;
  private boolean ended;
  private boolean tooLarge;
  private Optional<IOException> failure = Optional.empty();

  /**
   * @param head bytes taken from {@code in} before: they come first
   */
  public BoundedInput(byte[] head, InputStream in, long limit) {
    this.head = head;
    this.in = in;
    this.limit = limit;
  }

  /** The parser got on; the bytes of a token count from here. */
  public void progressed() {
    progress = count;
  }

  /** The parser asked for more and there was no more. */
  public boolean ended() {
    return ended;
  }

  /** Bytes given so far. */
  public long count() {
    return count;
  }

  public boolean tooLarge() {
    return tooLarge;
  }

  /** What the stream below threw. */
  public Optional<IOException> failure() {
    return failure;
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] bytes, int offset, int length) throws IOException {
    if (count > limit || count - progress > LONGEST_TOKEN) {
      tooLarge = true;
      throw new IOException("too large");
    }
    int n;
    if (headAt < head.length) {
      n = Math.min(length, head.length - headAt);
      System.arraycopy(head, headAt, bytes, offset, n);
      headAt += n;
    } else {
      try {
        n = in.read(bytes, offset, length);
      } catch (IOException e) {
        failure = Optional.of(e);
        throw e;
      }
    }
    if (n < 0) ended = true;
    else count += n;
    return n;
  }
}
