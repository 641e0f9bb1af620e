package milewarden.store;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.jspecify.annotations.Nullable;

/**
 * The right to be the one writer on a data folder: a lock of the operating system on {@code
 * <data>/lock}, which goes with the process however it ends.
 */
public final class FolderLock implements AutoCloseable {
  private final FileChannel channel;

  private FolderLock(FileChannel channel) {
    this.channel = channel;
  }

  /**
   * Takes the folder, which is made where it is missing.
   *
   * @throws StoreUnavailable where another process has it, or it can't be written
   */
  public static FolderLock take(Path data) {
    Path file = data.resolve("lock");
    try {
      Files.createDirectories(data);
      FileChannel channel =
          FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
      if (tryLock(channel) == null) {
        channel.close();
        throw new StoreUnavailable(
            StoreUnavailable.Cause.IN_USE,
            "The data folder "
                + data
                + " is in use by another running Milewarden. Stop that one first, or name another"
                + " folder with `--data`.",
            new IllegalStateException("locked"));
      }
      channel.truncate(0);
      channel.write(
          java.nio.ByteBuffer.wrap(
              (ProcessHandle.current().pid() + "\n").getBytes(StandardCharsets.UTF_8)));
      return new FolderLock(channel);
    } catch (IOException e) {
      throw StoreUnavailable.unreachable(file.toString(), e.toString(), e);
    }
  }

  private static @Nullable FileLock tryLock(FileChannel channel) throws IOException {
    try {
      return channel.tryLock();
    } catch (OverlappingFileLockException e) {
      return null;
    }
  }

  @Override
  public void close() {
    try {
      channel.close();
    } catch (IOException e) {
      throw StoreUnavailable.unreachable("The lock of the data folder", e.toString(), e);
    }
  }
}
