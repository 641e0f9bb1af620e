package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
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
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The script {@code config/service/milewarden} with the built jar. */
@DisabledOnOs(OS.WINDOWS)
final class LauncherIT {
  // What Java ends with after SIGTERM: 128 + 15.
  private static final int TERMINATED = 143;

  @TempDir Path folder;

  private String run(int code, String... command) throws IOException, InterruptedException {
    return run("sh", folder.resolve("cache"), code, command);
  }

  private String run(String shell, Path cache, int code, String... command)
      throws IOException, InterruptedException {
    Path said = folder.resolve("said");
    ProcessBuilder builder = builder(shell, said, command);
    builder.environment().put("XDG_CACHE_HOME", cache.toString());
    return text(builder, said, code);
  }

  private static ProcessBuilder builder(String shell, Path said, String... command) {
    List<String> words = new ArrayList<>(List.of(shell, "config/service/milewarden"));
    words.addAll(List.of(command));
    ProcessBuilder builder =
        new ProcessBuilder(words).redirectErrorStream(true).redirectOutput(said.toFile());
    builder.environment().put("MILEWARDEN_JAR", System.getProperty("milewarden.jar"));
    return builder;
  }

  private static String text(ProcessBuilder builder, Path said, int code)
      throws IOException, InterruptedException {
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
          all.filter(p -> p.getFileName().toString().matches(command + "\\..*\\.jsa")).toList();
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

  private interface Garble {
    byte[] of(byte[] whole);
  }

  // Of some, Java alone takes no notice; by others it breaks down.
  private static Stream<Arguments> garbles() {
    return Stream.of(
        Arguments.of("a text", (Garble) whole -> "broken".getBytes(StandardCharsets.UTF_8)),
        Arguments.of("half of it", (Garble) whole -> Arrays.copyOf(whole, whole.length / 2)),
        Arguments.of("a bit in its head", (Garble) whole -> flipped(whole, 200)),
        Arguments.of("a bit in its middle", (Garble) whole -> flipped(whole, whole.length / 2)),
        Arguments.of("nothing", (Garble) whole -> new byte[0]));
  }

  private static byte[] flipped(byte[] whole, int at) {
    byte[] other = whole.clone();
    other[at] ^= 1;
    return other;
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("garbles")
  void anArchiveThatIsGarbledIsMadeAnew(String what, Garble garble) throws Exception {
    String first = run(0, "due", "--help");
    // With and without the stamp that says it was sound.
    for (int times = 0; times < 2; times++) {
      Path archive = archive("due");
      byte[] whole = Files.readAllBytes(archive);
      // Java writes it so that only root may write into it.
      Files.delete(archive);
      Files.write(archive, garble.of(whole));
      assertThat(run(0, "due", "--help")).isEqualTo(first);
      assertThat(Files.size(archive)).as(what).isGreaterThan(whole.length / 10 * 9);
      // The next takes it, having looked through it.
      assertThat(run(0, "due", "--help")).isEqualTo(first);
      assertThat(stamp(archive)).isNotEmptyFile();
    }
  }

  private static Path stamp(Path archive) {
    return archive.resolveSibling(archive.getFileName() + ".sound");
  }

  /** One with the time of an older build, as a package's files have: it is another all the same. */
  @Test
  void anArchiveOfAnotherJarIsMadeAnew() throws Exception {
    Path jar = folder.resolve("own.jar");
    Files.copy(Path.of(System.getProperty("milewarden.jar")), jar);
    Path said = folder.resolve("said");
    ProcessBuilder builder = builder("sh", said, "due", "--help");
    builder.environment().put("XDG_CACHE_HOME", folder.resolve("cache").toString());
    builder.environment().put("MILEWARDEN_JAR", jar.toString());
    String first = text(builder, said, 0);
    assertThat(text(builder, said, 0)).isEqualTo(first);
    Path archive = archive("due");
    // Under another name too, else the new file may get the number of the one removed.
    Path ofTheOther = Files.createLink(folder.resolve("other.jsa"), archive);
    assertThat(stamp(archive)).isNotEmptyFile();
    Files.setLastModifiedTime(jar, FileTime.from(Instant.parse("2020-01-01T00:00:00Z")));
    assertThat(text(builder, said, 0)).isEqualTo(first);
    assertThat(stamp(archive)).doesNotExist();
    assertThat(Files.isSameFile(archive, ofTheOther)).isFalse();
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
  void withoutAHomeThatItMayWriteItStartsAllTheSame() throws Exception {
    String first = run(0, "due", "--help");
    Path said = folder.resolve("said");
    ProcessBuilder builder = builder("sh", said, "due", "--help");
    builder.environment().remove("XDG_CACHE_HOME");
    builder.environment().put("HOME", Files.writeString(folder.resolve("home"), "").toString());
    assertThat(text(builder, said, 0)).isEqualTo(first);
    builder.environment().remove("HOME");
    assertThat(text(builder, said, 0)).isEqualTo(first);
  }

  @Test
  void optionsForJavaComeByTheirVariable() throws Exception {
    Path said = folder.resolve("said");
    ProcessBuilder builder = builder("sh", said, "due", "--help");
    builder.environment().put("XDG_CACHE_HOME", folder.resolve("cache").toString());
    builder.environment().put("MILEWARDEN_JAVA_OPTIONS", "-Xmx64m -XshowSettings:vm");
    assertThat(text(builder, said, 0)).contains("Max. Heap Size: 64.00M");
  }

  private Process serve(String name) throws IOException {
    Path said = folder.resolve(name + ".said");
    Files.deleteIfExists(said);
    String data = folder.resolve(name).toString();
    ProcessBuilder builder = builder("sh", said, "serve", "--data", data, "--port", "0");
    builder.environment().put("XDG_CACHE_HOME", folder.resolve("cache").toString());
    return builder.start();
  }

  private void awaits(Process server, String name, String words) {
    Path said = folder.resolve(name + ".said");
    Await.until(
        name + " says " + words,
        () -> said(said),
        () -> !server.isAlive() || said(said).contains(words));
    assertThat(said(said)).contains(words);
  }

  private static String said(Path file) {
    try {
      return Files.exists(file) ? Files.readString(file) : "";
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Both write the one archive when they end; the third takes what the later one wrote. */
  @Test
  void twoServersStartedAtOnceLeaveOneSoundArchive() throws Exception {
    Process a = serve("a");
    Process b = serve("b");
    awaits(a, "a", "Dashboard:");
    awaits(b, "b", "Dashboard:");
    a.destroy();
    b.destroy();
    assertThat(ends(a)).isEqualTo(TERMINATED);
    assertThat(ends(b)).isEqualTo(TERMINATED);
    Path archive = archive("serve");
    FileTime written = Files.getLastModifiedTime(archive);
    Process c = serve("c");
    awaits(c, "c", "Dashboard:");
    assertThat(stamp(archive)).isNotEmptyFile();
    c.destroy();
    assertThat(ends(c)).isEqualTo(TERMINATED);
    assertThat(Files.getLastModifiedTime(archive)).isEqualTo(written);
  }

  private static int ends(Process server) throws InterruptedException {
    assertThat(server.waitFor(2, TimeUnit.MINUTES)).isTrue();
    return server.exitValue();
  }

  /** It has stopped in the time that config/service gives a stop; then the archive is written. */
  @Test
  void askedAgainToStopWhileItWritesItEndsThatFirst() throws Exception {
    Process server = serve("a");
    awaits(server, "a", "Dashboard:");
    long asked = System.nanoTime();
    server.destroy();
    awaits(server, "a", " stopped");
    assertThat(Duration.ofNanos(System.nanoTime() - asked)).isLessThan(Duration.ofSeconds(20));
    server.destroy();
    assertThat(ends(server)).isEqualTo(TERMINATED);
    server = serve("a");
    awaits(server, "a", "Dashboard:");
    assertThat(stamp(archive("serve"))).isNotEmptyFile();
    // Killed: the archive was only read.
    server.destroyForcibly();
    ends(server);
  }

  @Test
  void killedWhileItWritesItMakesItAnew() throws Exception {
    Process server = serve("a");
    awaits(server, "a", "Dashboard:");
    server.destroy();
    awaits(server, "a", " stopped");
    server.destroyForcibly();
    ends(server);
    for (int i = 0; i < 2; i++) {
      server = serve("a");
      awaits(server, "a", "Dashboard:");
      server.destroy();
      assertThat(ends(server)).isEqualTo(TERMINATED);
    }
    assertThat(stamp(archive("serve"))).isNotEmptyFile();
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
