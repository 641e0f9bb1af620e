package milewarden.store;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.sqlite.SQLiteJDBCLoader;
import org.sqlite.util.LibraryLoaderUtil;

/**
 * The native part of SQLite, brought out of the jar and loaded. The driver does that by itself, but
 * compares what it wrote with the jar byte by byte, a seventh of the work of a start, and leaves
 * the file behind where the program is killed.
 */
final class NativePart {
  private static final Logger LOG = LoggerFactory.getLogger(NativePart.class);
  // The driver's own properties; what a user has set there holds.
  private static final String FOLDER = "org.sqlite.lib.path";
  private static final String TEMPORARY = "org.sqlite.tmpdir";

  private static boolean tried;

  private NativePart() {}

  /** Once in a process; where it fails, the driver goes its own way. */
  static synchronized void load() {
    if (tried || System.getProperty(FOLDER) != null) return;
    tried = true;
    String name = LibraryLoaderUtil.getNativeLibName();
    String packed = LibraryLoaderUtil.getNativeLibResourcePath() + "/" + name;
    try (InputStream in = NativePart.class.getResourceAsStream(packed)) {
      if (in == null) return;
      Path folder = folder();
      Path file = folder.resolve(name);
      try {
        Files.copy(in, file);
        System.setProperty(FOLDER, folder.toString());
        SQLiteJDBCLoader.initialize();
      } finally {
        System.clearProperty(FOLDER);
        remove(folder, file);
      }
    } catch (Exception e) {
      LOG.debug("the driver brings out its native part by itself", e);
    }
  }

  // For this user alone, so that nobody puts another file there.
  private static Path folder() throws IOException {
    String temporary = System.getProperty(TEMPORARY);
    return temporary == null
        ? Files.createTempDirectory("milewarden-")
        : Files.createTempDirectory(Path.of(temporary), "milewarden-");
  }

  // Once loaded it needs no name; a system that holds on to it lets go at the end.
  private static void remove(Path folder, Path file) {
    try {
      Files.deleteIfExists(file);
      Files.deleteIfExists(folder);
    } catch (IOException e) {
      folder.toFile().deleteOnExit();
      file.toFile().deleteOnExit();
    }
  }
}
