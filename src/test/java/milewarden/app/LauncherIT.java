package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** The script {@code config/service/milewarden} with the built jar. */
@DisabledOnOs(OS.WINDOWS)
final class LauncherIT {
  @TempDir Path folder;

  private String run(int code, String... command) throws IOException, InterruptedException {
    return run("sh", folder.resolve("cache"), code, command);
  }

  private String run(String shell, Path cache, int code, String... command)
      throws IOException, InterruptedException {
    List<String> words = new ArrayList<>(List.of(shell, "config/service/milewarden"));
    words.addAll(List.of(command));
    Path said = folder.resolve("said");
    ProcessBuilder builder =
        new ProcessBuilder(words).redirectErrorStream(true).redirectOutput(said.toFile());
    builder.environment().put("XDG_CACHE_HOME", cache.toString());
    builder.environment().put("MILEWARDEN_JAR", System.getProperty("milewarden.jar"));
    Process process = builder.start();
    assertThat(process.waitFor(2, TimeUnit.MINUTES)).isTrue();
    String text = Files.readString(said, StandardCharsets.UTF_8);
    assertThat(process.exitValue()).as(text).isEqualTo(code);
    return text;
  }

  // A command's archive; its name says which Java wrote it, too.
  private Path archive(String command) throws IOException {
    try (Stream<Path> all = Files.list(folder.resolve("cache/milewarden"))) {
      List<Path> its =
          all.filter(p -> p.getFileName().toString().startsWith(command + ".")).toList();
      assertThat(its).as(command).hasSize(1);
      return its.get(0);
    }
  }

  @Test
  void theSecondStartTakesTheFirstOnesArchiveAndSaysTheSame() throws Exception {
    String first = run(0, "course", "track", "--centre", "1,2", "--bearing", "30", "--lane", "1");
    Path archive = archive("course");
    assertThat(archive).isNotEmptyFile();
    var written = Files.getLastModifiedTime(archive);
    assertThat(run(0, "course", "track", "--centre", "1,2", "--bearing", "30", "--lane", "1"))
        .isEqualTo(first);
    assertThat(Files.getLastModifiedTime(archive)).isEqualTo(written);
  }

  @Test
  void anArchiveThatIsBrokenHindersNothing() throws Exception {
    String first = run(0, "due", "--help");
    // Java writes it so that only root may write into it.
    Path archive = archive("due");
    Files.delete(archive);
    Files.writeString(archive, "broken");
    assertThat(run(0, "due", "--help")).isEqualTo(first);
  }

  /** Killed while Java wrote it: the first bytes are written last. */
  @Test
  void anArchiveThatWasCutOffIsMadeAnew() throws Exception {
    String first = run(0, "due", "--help");
    Path archive = archive("due");
    byte[] whole = Files.readAllBytes(archive);
    byte[] cut = Arrays.copyOf(whole, whole.length / 2);
    Arrays.fill(cut, 0, 4096, (byte) 0);
    Files.delete(archive);
    Files.write(archive, cut);
    assertThat(run(0, "due", "--help")).isEqualTo(first);
    assertThat(Files.size(archive)).isGreaterThan(cut.length);
    assertThat(Arrays.copyOf(Files.readAllBytes(archive), 4)).isEqualTo(Arrays.copyOf(whole, 4));
  }

  /** Else each Java that is updated would leave one behind, which no other can map. */
  @Test
  void anArchiveOfAnotherJavaIsNotTakenButRemoved() throws Exception {
    String first = run(0, "due", "--help");
    Path own = archive("due");
    Path other = own.resolveSibling("due.1.jsa");
    Files.move(own, other);
    assertThat(run(0, "due", "--help")).isEqualTo(first);
    assertThat(archive("due")).isEqualTo(own).isNotEmptyFile();
  }

  @Test
  void anArchiveOlderThanTheJarIsMadeAnew() throws Exception {
    String first = run(0, "due", "--help");
    Path archive = archive("due");
    FileTime before = FileTime.from(Instant.EPOCH);
    Files.setLastModifiedTime(archive, before);
    assertThat(run(0, "due", "--help")).isEqualTo(first);
    assertThat(Files.getLastModifiedTime(archive("due"))).isGreaterThan(before);
  }

  @Test
  void aFolderThatCantBeMadeHindersNothing() throws Exception {
    Path file = Files.writeString(folder.resolve("file"), "no folder");
    assertThat(run("sh", file.resolve("cache"), 0, "due", "--help"))
        .isEqualTo(run(0, "due", "--help"));
  }

  @Test
  void runsByEveryShellOfThisMachine() throws Exception {
    String first = run(0, "due", "--help");
    for (String shell : List.of("/bin/dash", "/bin/bash", "/bin/ksh"))
      if (Files.isExecutable(Path.of(shell)))
        assertThat(run(shell, folder.resolve("cache"), 0, "due", "--help")).isEqualTo(first);
  }

  @Test
  void wrongUseIsToldAsEver() throws Exception {
    assertThat(run(2, "frobnicate")).contains("frobnicate");
  }
}
