package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The files by which it runs as a service say what the program understands. */
final class ServiceFilesTest {
  private static final Path UNIT = Path.of("config/service/milewarden.service");
  private static final Path CONTAINER = Path.of("config/service/Containerfile");
  private static final Path SCRIPT = Path.of("config/service/milewarden");
  private static final Pattern OPTIONS = Pattern.compile("MILEWARDEN_JAVA_OPTIONS=(\\S+)");
  private static final Pattern STRING = Pattern.compile("\"([^\"]*)\"");

  @TempDir Path folder;

  // Asked for help, a command reads all its options and then does nothing.
  private static void isUnderstood(List<String> arguments) {
    List<String> all = new ArrayList<>(arguments);
    all.add("--help");
    StringWriter err = new StringWriter();
    PrintWriter out = new PrintWriter(new StringWriter());
    int code =
        Milewarden.run(Main.commands(), out, new PrintWriter(err), all.toArray(String[]::new));
    assertThat(code).as(arguments + ": " + err).isEqualTo(Exit.DONE);
    assertThat(err.toString()).isEmpty();
  }

  @Test
  void theUnitsCommandsAreUnderstood() throws IOException {
    List<String> commands =
        Files.readAllLines(UNIT).stream().filter(l -> l.matches("ExecStart(Pre)?=.*")).toList();
    assertThat(commands).hasSize(2);
    for (String command : commands) {
      List<String> words = List.of(command.replaceFirst("^[^=]*=-?", "").split(" "));
      assertThat(words.get(0)).isEqualTo("/usr/local/lib/milewarden/milewarden");
      isUnderstood(words.subList(1, words.size()));
    }
  }

  /** A configuration that is wrong stays wrong: the start is not tried for ever. */
  @Test
  void aWrongConfigurationIsNotStartedAgainAndAgain() throws IOException {
    String unit = Files.readString(UNIT);
    assertThat(unit).contains("\nRestart=on-failure\n");
    assertThat(unit).contains("\nRestartPreventExitStatus=" + Exit.WRONG_USE + "\n");
    Path wrong = Files.writeString(folder.resolve("wrong.yaml"), "prot: 9000\n");
    StringWriter err = new StringWriter();
    int code =
        Milewarden.run(
            Main.commands(),
            new PrintWriter(new StringWriter()),
            new PrintWriter(err),
            "serve",
            "--data",
            folder.resolve("data").toString(),
            "--config",
            wrong.toString());
    assertThat(code).as(err.toString()).isEqualTo(Exit.WRONG_USE);
  }

  @Test
  void theContainersCommandIsUnderstood() throws IOException {
    List<String> words = new ArrayList<>();
    for (String line : Files.readAllLines(CONTAINER)) {
      if (!line.startsWith("ENTRYPOINT ") && !line.startsWith("CMD ")) continue;
      Matcher strings = STRING.matcher(line);
      while (strings.find()) words.add(strings.group(1));
    }
    assertThat(words).startsWith("/opt/milewarden/milewarden");
    isUnderstood(words.subList(1, words.size()));
  }

  /** The script lies beside the jar in both, where it looks for it, and Java takes its options. */
  @Test
  void theScriptFindsItsJarAndItsOptionsAreJavas() throws Exception {
    assertThat(Files.isExecutable(SCRIPT)).isTrue();
    String unit = Files.readString(UNIT);
    assertThat(unit)
        .contains(
            "target/milewarden.jar /usr/local/lib/milewarden/milewarden.jar\n",
            "config/service/milewarden /usr/local/lib/milewarden/\n");
    assertThat(Files.readString(CONTAINER))
        .contains(
            "target/milewarden.jar /opt/milewarden/milewarden.jar\n",
            "config/service/milewarden /opt/milewarden/milewarden\n");
    for (Path file : List.of(UNIT, CONTAINER)) {
      Matcher options = OPTIONS.matcher(Files.readString(file));
      assertThat(options.find()).as(file.toString()).isTrue();
      String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
      Process process =
          new ProcessBuilder(java, options.group(1), "-version").redirectErrorStream(true).start();
      String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      assertThat(process.waitFor()).as(said).isZero();
    }
  }

  /** By systemd itself, where it is installed. */
  @Test
  void systemdFindsNothingToSayAboutTheUnit() throws Exception {
    assumeTrue(Stream.of("/usr/bin", "/bin").anyMatch(b -> isThere(b)), "no systemd-analyze here");
    // It asks whether the program is there.
    Path unit =
        Files.writeString(
            folder.resolve("milewarden.service"),
            Files.readString(UNIT)
                .replace("/usr/local/lib/milewarden/milewarden", SCRIPT.toAbsolutePath() + ""));
    Process process =
        new ProcessBuilder("systemd-analyze", "verify", unit.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(said.lines().filter(l -> l.contains("milewarden")).toList()).isEmpty();
    assertThat(process.waitFor()).as(said).isZero();
  }

  private static boolean isThere(String folder) {
    return Files.isExecutable(Path.of(folder, "systemd-analyze"));
  }
}
