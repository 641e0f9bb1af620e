package milewarden.format.fixes;

import java.io.BufferedInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/**
 * A recording's bytes as a stream that can go back to a marked place however far it has come: what
 * lies there is opened anew.
 */
public final class Rereadable extends FilterInputStream {
  private static final int BUFFER = 1 << 16;

  private final Source source;
  private long at;
  private long mark;

  /** Where the bytes come from, from their start each time. */
  @FunctionalInterface
  public interface Source {
    InputStream open() throws IOException;
  }

  public Rereadable(Source source) throws IOException {
    super(new BufferedInputStream(source.open(), BUFFER));
    this.source = source;
  }

  @Override
  public int read() throws IOException {
    int b = in.read();
    if (b >= 0) at++;
    return b;
  }

  @Override
  public int read(byte[] bytes, int offset, int length) throws IOException {
    int n = in.read(bytes, offset, length);
    if (n > 0) at += n;
    return n;
  }

  @Override
  public long skip(long n) throws IOException {
    long skipped = in.skip(n);
    at += skipped;
    return skipped;
  }

  @Override
  public boolean markSupported() {
    return true;
  }

  @Override
  public synchronized void mark(int readLimit) {
    mark = at;
  }

  @Override
  public synchronized void reset() throws IOException {
    in.close();
    in = new BufferedInputStream(source.open(), BUFFER);
    in.skipNBytes(mark);
    at = mark;
  }
}
