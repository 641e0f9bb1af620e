package milewarden.benchmark;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** Folders that a benchmark made for itself. */
final class Folders {
  private Folders() {}

  static void delete(Path folder) throws IOException {
    List<Path> all;
    try (Stream<Path> found = Files.walk(folder)) {
      all = found.sorted(Comparator.reverseOrder()).toList();
    }
    for (Path path : all) Files.deleteIfExists(path);
  }
}
