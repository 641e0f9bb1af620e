package milewarden.benchmark;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** What a process of its own takes. */
final class ProcessSpeed {
  private ProcessSpeed() {}

  private static List<String> java(String... arguments) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of(arguments));
    return command;
  }

  static String run(ProcessBuilder command) throws IOException, InterruptedException {
    Process process = command.redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (process.waitFor() != 0) throw new IllegalStateException(command.command() + ":\n" + said);
    return said;
  }

  /** A million fixes, each with every value that a fix can have, under a bound of the heap. */
  static void memory(Table table) throws IOException, InterruptedException {
    String said =
        run(
            new ProcessBuilder(
                java(
                    "-Xmx96m",
                    "-XX:+UseSerialGC",
                    "-cp",
                    System.getProperty("java.class.path"),
                    LargeFileProof.class.getName(),
                    "FULL")));
    table.most(
        "heap for one file of a million fixes with every value",
        "read in 96 MiB: " + (said.contains("1000000 fixes") ? "yes" : said.strip()),
        said.contains("1000000 fixes") ? 96 : Double.POSITIVE_INFINITY,
        96,
        " MiB");
  }
}
