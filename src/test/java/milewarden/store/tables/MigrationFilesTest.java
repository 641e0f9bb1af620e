package milewarden.store.tables;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

final class MigrationFilesTest {
  private final MigrationFiles files = new MigrationFiles();

  @Test
  void everyStepOfTheFolderIsNamed() throws Exception {
    try (Stream<Path> folder = Files.list(Path.of("src/main/resources/milewarden/store"))) {
      assertThat(folder.map(f -> f.getFileName().toString()).filter(n -> n.endsWith(".sql")))
          .containsExactlyInAnyOrderElementsOf(MigrationFiles.NAMES);
    }
  }

  @Test
  void namesAreFoundByTheirEnds() {
    String[] sql = {".sql"};
    assertThat(files.getResources("V1", sql))
        .extracting(f -> f.getFilename().substring(0, 4))
        .containsExactlyInAnyOrder(
            "V1__", "V10_", "V11_", "V12_", "V13_", "V15_", "V17_", "V18_", "V19_");
    assertThat(files.getResources("R", sql)).isEmpty();
    assertThat(files.getResources("V", new String[] {".conf"})).isEmpty();
    assertThat(files.getResource("V9__none.sql")).isNull();
  }
}
