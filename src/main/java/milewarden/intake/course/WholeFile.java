package milewarden.intake.course;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** Writes a file as a whole: whoever reads it finds the old one or the new one. */
final class WholeFile {
  private WholeFile() {}

  /**
   * Replaces a file, or makes it. The part that is being written bears a name that no one reads.
   */
  static void replace(Path file, byte[] bytes) throws IOException {
    Path part = Files.createTempFile(file.toAbsolutePath().getParent(), ".course", ".part");
    try {
      try (FileChannel out = FileChannel.open(part, StandardOpenOption.WRITE)) {
        ByteBuffer rest = ByteBuffer.wrap(bytes);
        while (rest.hasRemaining()) out.write(rest);
        // The name must not be there before its bytes are.
        out.force(true);
      }
      try {
        Files.move(part, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
      } catch (AtomicMoveNotSupportedException e) {
        Files.move(part, file, StandardCopyOption.REPLACE_EXISTING);
      }
    } finally {
      Files.deleteIfExists(part);
    }
  }

  static String sentence(Path file, IOException e) {
    return file
        + " can't be written ("
        + e.getMessage()
        + "). Give the user who runs Milewarden the right to write there, or make room.";
  }
}
