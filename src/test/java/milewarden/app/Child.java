package milewarden.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;

/** The server in a process of its own, with little memory. */
final class Child {
  private final Process process;
  private final StringBuffer said = new StringBuffer();
  private final boolean serving;

  private Child(Process process, BufferedReader out) throws IOException {
    this.process = process;
    boolean ready = false;
    for (String line = out.readLine(); line != null && !ready; ) {
      said.append(line).append('\n');
      ready = line.startsWith("Stop with");
      if (!ready) line = out.readLine();
    }
    serving = ready;
    Thread drain = new Thread(() -> drain(out));
    drain.setDaemon(true);
    drain.start();
  }

  /** Returns when it serves, or has ended because it can't. */
  static Child start(Household house, String... options) throws IOException {
    return start(house, born -> {}, options);
  }

  /**
   * As {@link #start(Household, String...)}.
   *
   * @param watcher told of the process as soon as there is one, before it serves
   */
  static Child start(Household house, Consumer<Process> watcher, String... options)
      throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(
        List.of("-Djava.awt.headless=true", "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC"));
    command.addAll(List.of(options));
    command.addAll(
        List.of(
            "-cp",
            System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")),
            Main.class.getName(),
            "serve",
            "--data",
            house.data.toString(),
            "--config",
            house.configFile.toString()));
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.PIPE)
            .start();
    watcher.accept(process);
    return new Child(
        process,
        new BufferedReader(
            new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8)));
  }

  private void drain(BufferedReader out) {
    try {
      for (String line = out.readLine(); line != null; line = out.readLine())
        said.append(line).append('\n');
    } catch (IOException e) {
      // It was killed: nothing more is said.
    }
  }

  boolean serves() {
    return serving && process.isAlive();
  }

  /** True where it was ended from outside, by SIGKILL (128 + 9). */
  boolean isKilled() throws InterruptedException {
    if (!serving) process.waitFor(1, TimeUnit.MINUTES);
    return !process.isAlive() && process.exitValue() == 137;
  }

  /** All that it wrote so far. */
  String said() {
    return said.toString();
  }

  long pid() {
    return process.pid();
  }

  /** SIGKILL: it does nothing more. */
  void kill() throws InterruptedException {
    process.destroyForcibly();
    if (!process.waitFor(1, TimeUnit.MINUTES)) throw new AssertionError("not killed");
  }

  /** SIGTERM; how long the stop took. */
  double stopS() throws InterruptedException {
    long from = System.nanoTime();
    process.destroy();
    if (!process.waitFor(1, TimeUnit.MINUTES)) throw new AssertionError("it doesn't stop");
    return (System.nanoTime() - from) / 1e9;
  }
}
