package milewarden.store;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;

/**
 * A file that other accounts of the machine can't read: the store and its copies hold hashes of
 * passphrases. Its group may, as far as the account's mask allows, since people who look after one
 * server share one.
 */
public final class PrivateFile {
  private PrivateFile() {}

  /**
   * Makes it, empty, where there is none; elsewhere, and where files have no such rights, nothing.
   */
  public static void make(Path file) throws IOException {
    if (!file.getFileSystem().supportedFileAttributeViews().contains("posix")) return;
    try {
      Files.createFile(
          file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-rw----")));
    } catch (FileAlreadyExistsException e) {
      // Whoever made it settled who may read it.
      return;
    }
  }
}
