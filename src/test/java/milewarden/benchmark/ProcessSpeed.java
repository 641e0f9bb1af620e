package milewarden.benchmark;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.format.CourseFile;

/** What a process of its own takes, from the command to its answer: by the clock on the wall. */
final class ProcessSpeed {
  private static final int ROUNDS = 5;
  private static final Pattern ADDRESS = Pattern.compile("http://127.0.0.1:\\d+");

  private ProcessSpeed() {}

  private static List<String> java(String... arguments) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of(arguments));
    return command;
  }

  /** The jar as it is given to users; where there is none, its classes. */
  private static List<String> milewarden(String... arguments) {
    Path jar = Path.of(System.getProperty("milewarden.jar", "target/milewarden.jar"));
    List<String> command =
        Files.exists(jar)
            ? java("-jar", jar.toString())
            : java("-cp", System.getProperty("java.class.path"), "milewarden.app.Main");
    command.addAll(List.of(arguments));
    return command;
  }

  static void start(Table table) throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory("start");
    try {
      Path config = Files.writeString(folder.resolve("milewarden.yaml"), "port: 0\n");
      Path track = Files.write(folder.resolve("hour.gpx"), Hour.LOOP_MIN.gpx);
      Path course =
          Files.writeString(folder.resolve("loop.geojson"), CourseFile.write(Hour.LOOP_MIN.course));
      List<Double> page = new ArrayList<>();
      List<Double> measure = new ArrayList<>();
      for (int round = 0; round < ROUNDS; round++) {
        page.add(firstPage(folder.resolve("data" + round), config));
        long from = System.nanoTime();
        run(milewarden("measure", track.toString(), "--course", course.toString()));
        measure.add((System.nanoTime() - from) / 1e9);
      }
      table.most(
          "first page after the command, empty store",
          "%s s".formatted(Table.of(Median.of(page))),
          Median.of(page),
          2,
          " s");
      table.most(
          "`measure` of one hour's track",
          "%s s".formatted(Table.of(Median.of(measure))),
          Median.of(measure),
          0.6,
          " s");
    } finally {
      Folders.delete(folder);
    }
  }

  private static double firstPage(Path data, Path config) throws IOException, InterruptedException {
    long from = System.nanoTime();
    Process server =
        new ProcessBuilder(
                milewarden("serve", "--data", data.toString(), "--config", config.toString()))
            .redirectErrorStream(true)
            .start();
    try {
      String address = address(server);
      HttpResponse<String> answer =
          HttpClient.newHttpClient()
              .send(
                  HttpRequest.newBuilder(URI.create(address + "/")).build(),
                  HttpResponse.BodyHandlers.ofString());
      if (answer.statusCode() != 200) throw new IllegalStateException(answer.body());
      return (System.nanoTime() - from) / 1e9;
    } finally {
      server.destroyForcibly().waitFor();
    }
  }

  private static String address(Process server) throws IOException {
    StringBuilder said = new StringBuilder();
    BufferedReader lines =
        new BufferedReader(new InputStreamReader(server.getInputStream(), StandardCharsets.UTF_8));
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      said.append(line).append('\n');
      Matcher found = ADDRESS.matcher(line);
      if (found.find()) return found.group();
    }
    throw new IllegalStateException("it ended:\n" + said);
  }

  private static String run(List<String> command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (process.waitFor() != 0) throw new IllegalStateException(command + ":\n" + said);
    return said;
  }

  /** A million fixes, each with every value that a fix can have, under a bound of the heap. */
  static void memory(Table table) throws IOException, InterruptedException {
    String said =
        run(
            java(
                "-Xmx96m",
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                LargeFileProof.class.getName(),
                "FULL"));
    table.most(
        "heap for one file of a million fixes with every value",
        "read in 96 MiB: " + (said.contains("1000000 fixes") ? "yes" : said.strip()),
        said.contains("1000000 fixes") ? 96 : Double.POSITIVE_INFINITY,
        96,
        " MiB");
  }
}
