package milewarden.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.TimeUnit;

/** A server in a process of its own, on a data folder of its own. */
final class Station {
  final Household house;
  private final List<String> settings;
  private final ConcurrentLinkedQueue<String> said = new ConcurrentLinkedQueue<>();
  private Process process;

  /**
   * @param settings further lines of its configuration
   */
  Station(Path folder, List<String> settings) throws IOException {
    Files.createDirectories(folder);
    this.house = new Household(folder);
    this.settings = settings;
    Files.writeString(house.configFile, Household.QUICK + String.join("\n", settings) + "\n");
  }

  /** Starts it; returns when it serves. */
  void start() throws IOException {
    ProcessBuilder builder =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx512m",
                "-XX:+UseSerialGC",
                "-Djava.awt.headless=true",
                "-cp",
                System.getProperty(
                    "surefire.test.class.path", System.getProperty("java.class.path")),
                Main.class.getName(),
                "serve",
                "--data",
                house.data.toString(),
                "--config",
                house.configFile.toString())
            .redirectErrorStream(true);
    // The test's own server asks nobody for a password.
    builder.environment().put("MILEWARDEN_STORE_PASSWORD", "none");
    process = builder.start();
    BufferedReader out =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      said.add(line);
      if (!line.startsWith("Stop with")) continue;
      Thread drain = new Thread(() -> out.lines().forEach(said::add), "drain");
      drain.setDaemon(true);
      drain.start();
      return;
    }
    throw new AssertionError("the station didn't start:\n" + String.join("\n", said));
  }

  /** As a power cut does. */
  void kill() throws InterruptedException {
    process.destroyForcibly();
    if (!process.waitFor(1, TimeUnit.MINUTES)) throw new AssertionError("it can't be killed");
  }

  boolean isAlive() {
    return process != null && process.isAlive();
  }

  /** Processor time that it has used since its start. */
  Duration processor() {
    return process.info().totalCpuDuration().orElseThrow();
  }

  /** The lines that it wrote so far. */
  List<String> said() {
    return new ArrayList<>(said);
  }
}
