package milewarden.store.keep;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;

/** What lies in folders. */
final class Folders {
  private Folders() {}

  static boolean isEmpty(Path folder) throws IOException {
    try (Stream<Path> entries = Files.list(folder)) {
      return entries.findAny().isEmpty();
    }
  }

  /**
   * Regular files by their names from the folder on, with slashes; none where there is no folder.
   */
  static Map<String, Path> files(Path folder) throws IOException {
    Map<String, Path> files = new TreeMap<>();
    if (!Files.isDirectory(folder)) return files;
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path file : all.filter(Files::isRegularFile).toList())
        files.put(folder.relativize(file).toString().replace('\\', '/'), file);
    }
    return files;
  }

  /** With all that it holds. */
  static void delete(Path folder) throws IOException {
    List<Path> all;
    try (Stream<Path> inside = Files.walk(folder)) {
      all = inside.sorted(Comparator.reverseOrder()).toList();
    }
    for (Path each : all) Files.deleteIfExists(each);
  }
}
