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
import java.util.Optional;
import java.util.function.UnaryOperator;
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

  /**
   * The script that keeps an archive of loaded classes in that folder; empty where there is no jar.
   */
  private static Optional<UnaryOperator<ProcessBuilder>> launcher(Path cache) {
    Path jar = Path.of(System.getProperty("milewarden.jar", "target/milewarden.jar"));
    if (!Files.exists(jar)) return Optional.empty();
    return Optional.of(
        plain -> {
          List<String> words = plain.command();
          List<String> command = new ArrayList<>(List.of("sh", "config/service/milewarden"));
          command.addAll(words.subList(words.indexOf(jar.toString()) + 1, words.size()));
          ProcessBuilder by = new ProcessBuilder(command);
          by.environment().put("MILEWARDEN_JAR", jar.toAbsolutePath().toString());
          by.environment().put("XDG_CACHE_HOME", cache.toString());
          return by;
        });
  }

  static void start(Table table) throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory("start");
    try {
      Path config = Files.writeString(folder.resolve("milewarden.yaml"), "port: 0\n");
      Path track = Files.write(folder.resolve("hour.gpx"), Hour.LOOP_MIN.gpx);
      Path course =
          Files.writeString(folder.resolve("loop.geojson"), CourseFile.write(Hour.LOOP_MIN.course));
      ProcessBuilder measuring =
          new ProcessBuilder(
              milewarden("measure", track.toString(), "--course", course.toString()));
      Optional<UnaryOperator<ProcessBuilder>> launcher = launcher(folder.resolve("cache"));
      List<Double> page = new ArrayList<>();
      List<Double> measure = new ArrayList<>();
      List<Double> pageByArchive = new ArrayList<>();
      List<Double> measureByArchive = new ArrayList<>();
      // The first one by the launcher writes the archive at its end.
      for (int round = 0; round <= ROUNDS; round++) {
        int of = round;
        if (round > 0) {
          page.add(firstPage(serving(folder.resolve("data" + of), config)));
          measure.add(whole(measuring));
        }
        if (launcher.isPresent()) {
          UnaryOperator<ProcessBuilder> by = launcher.get();
          double first = firstPage(by.apply(serving(folder.resolve("by" + of), config)));
          double whole = whole(by.apply(measuring));
          if (round > 0) {
            pageByArchive.add(first);
            measureByArchive.add(whole);
          }
        }
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
      if (pageByArchive.isEmpty()) return;
      table.most(
          "first page after `config/service/milewarden serve`, empty store",
          "%s s".formatted(Table.of(Median.of(pageByArchive))),
          Median.of(pageByArchive),
          2,
          " s");
      table.most(
          "`config/service/milewarden measure` of one hour's track",
          "%s s".formatted(Table.of(Median.of(measureByArchive))),
          Median.of(measureByArchive),
          0.6,
          " s");
    } finally {
      Folders.delete(folder);
    }
  }

  private static ProcessBuilder serving(Path data, Path config) {
    return new ProcessBuilder(
        milewarden("serve", "--data", data.toString(), "--config", config.toString()));
  }

  private static double whole(ProcessBuilder command) throws IOException, InterruptedException {
    long from = System.nanoTime();
    run(command);
    return (System.nanoTime() - from) / 1e9;
  }

  private static double firstPage(ProcessBuilder command) throws IOException, InterruptedException {
    long from = System.nanoTime();
    Process server = command.redirectErrorStream(true).start();
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
      // It stops as it is asked to, since the archive is written at the end.
      server.destroy();
      server.waitFor();
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

  private static String run(ProcessBuilder command) throws IOException, InterruptedException {
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
