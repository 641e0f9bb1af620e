package milewarden;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.course.CourseRead;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import org.junit.jupiter.api.Test;

/** Habits of the project that a tree of files can be asked for. */
final class HabitsTest {
  @Test
  void everyFolderOfTestDataHasItsPassport() throws IOException {
    Path root = Path.of("src/test/resources");
    try (Stream<Path> all = Files.walk(root)) {
      List<Path> without =
          all.filter(Files::isDirectory)
              .filter(folder -> !folder.equals(root))
              .filter(HabitsTest::holdsFiles)
              .filter(folder -> !Files.exists(folder.resolve("SOURCE.txt")))
              .toList();
      assertThat(without).isEmpty();
    }
  }

  private static boolean holdsFiles(Path folder) {
    try (Stream<Path> inside = Files.list(folder)) {
      return inside.anyMatch(Files::isRegularFile);
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  @Test
  void everyReferenceCourseThatWeShipIsReadWithoutAWarning() throws IOException {
    try (Stream<Path> all = Files.list(Path.of("reference-courses"))) {
      List<Path> files = all.filter(f -> f.toString().endsWith(".geojson")).toList();
      assertThat(files).isNotEmpty();
      for (Path file : files) {
        CourseRead read = CourseFile.read(Files.readAllBytes(file));
        Optional<ReferenceCourse> course =
            read.fold(usable -> Optional.of(usable.course()), refused -> Optional.empty());
        assertThat(course).as(file.toString()).isPresent();
        // A course file is warned about where line and measured length are apart by more than 0.1
        // %.
        assertThat(Math.abs(course.orElseThrow().scale() - 1))
            .as(file.toString())
            .isLessThan(0.001);
      }
    }
  }
}
