package milewarden.store.file;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Bytes that are written once and read in parts of one size: the last one in memory, those before
 * it in a file which is gone as soon as this is closed or the program ends.
 */
final class Parts extends OutputStream {
  /**
   * Our own choice: a usual recording deflates to less and is one row; few such parts lie in memory
   * at a time. SQLite allows 1,000,000,000 bytes a row, PostgreSQL 1 GiB.
   *
   * @see "SQLite, Implementation Limits For SQLite; PostgreSQL, appendix K"
   */
  static final int PART_BYTES = 1 << 20;

  private final Optional<Path> folder;
  private final List<byte[]> inMemory = new ArrayList<>();
  private final ByteArrayOutputStream last = new ByteArrayOutputStream(8192);
  private @Nullable FileChannel file;
  private int full;

  /**
   * @param folder where the file is made; empty where all may lie in memory
   */
  Parts(Optional<Path> folder) {
    this.folder = folder;
  }

  @Override
  public void write(int b) throws IOException {
    write(new byte[] {(byte) b}, 0, 1);
  }

  @Override
  public void write(byte[] bytes, int offset, int length) throws IOException {
    int from = offset;
    int left = length;
    while (left > 0) {
      if (last.size() == PART_BYTES) putAway();
      int n = Math.min(left, PART_BYTES - last.size());
      last.write(bytes, from, n);
      from += n;
      left -= n;
    }
  }

  private void putAway() throws IOException {
    if (folder.isEmpty()) {
      inMemory.add(last.toByteArray());
    } else {
      FileChannel to = file == null ? made(folder.get()) : file;
      file = to;
      ByteBuffer bytes = ByteBuffer.wrap(last.toByteArray());
      while (bytes.hasRemaining()) to.write(bytes);
    }
    last.reset();
    full++;
  }

  private static FileChannel made(Path folder) throws IOException {
    Files.createDirectories(folder);
    return FileChannel.open(
        folder.resolve(".spool-" + UUID.randomUUID()),
        StandardOpenOption.CREATE_NEW,
        StandardOpenOption.READ,
        StandardOpenOption.WRITE,
        StandardOpenOption.DELETE_ON_CLOSE);
  }

  /** At least one, perhaps empty. */
  int count() {
    return full + 1;
  }

  /**
   * @param number from 0 on
   */
  byte[] part(int number) {
    if (number == full) return last.toByteArray();
    return file == null ? inMemory.get(number) : read(file, number);
  }

  private static byte[] read(FileChannel file, int number) {
    byte[] part = new byte[PART_BYTES];
    ByteBuffer to = ByteBuffer.wrap(part);
    long from = (long) number * PART_BYTES;
    try {
      while (to.hasRemaining())
        if (file.read(to, from + to.position()) < 0)
          throw new IOException("the file of spooled bytes was cut");
      return part;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public void close() throws IOException {
    if (file != null) file.close();
  }
}
