package milewarden.benchmark;

import java.io.BufferedReader;
import java.io.File;
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
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.benchmark.skeleton.OneLine;
import milewarden.benchmark.skeleton.PlainMeasure;
import milewarden.benchmark.skeleton.Skeleton;
import milewarden.format.CourseFile;

/**
 * From the command to the first page, and a whole {@code measure}, by the clock on the wall; in
 * turn with plain programs of the same libraries ({@code skeleton}), which take their classes from
 * the same jar.
 */
final class StartSpeed {
  private static final int ROUNDS = 7;
  private static final Pattern ADDRESS = Pattern.compile("http://127.0.0.1:\\d+");

  /**
   * The goal is a first page within 2 s on a machine on which a plain skeleton of these libraries
   * took 3.7 s: 0.54 of it. A machine that is slower is slower for both.
   */
  private static final double OF_THE_SKELETON = 0.54;

  private final Path folder;
  private final Path jar =
      Path.of(System.getProperty("milewarden.jar", "target/milewarden.jar")).toAbsolutePath();
  private final Map<String, List<Double>> seconds = new LinkedHashMap<>();

  private StartSpeed(Path folder) {
    this.folder = folder;
  }

  static void measure(Table table) throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory("start");
    try {
      new StartSpeed(folder).run(table);
    } finally {
      Folders.delete(folder);
    }
  }

  private void run(Table table) throws IOException, InterruptedException {
    if (!Files.exists(jar)) throw new IllegalStateException("build " + jar + " first");
    Path config = Files.writeString(folder.resolve("milewarden.yaml"), "port: 0\n");
    Path track = Files.write(folder.resolve("hour.gpx"), Hour.LOOP_MIN.gpx);
    Path course =
        Files.writeString(folder.resolve("loop.geojson"), CourseFile.write(Hour.LOOP_MIN.course));
    String[] measuring = {"measure", track.toString(), "--course", course.toString()};
    String plain = plainPrograms();
    // The first round by the script writes the archive at its end, and none of the first counts.
    for (int round = 0; round <= ROUNDS; round++) {
      String data = folder.resolve("data" + round).toString();
      String by = folder.resolve("by" + round).toString();
      String skeletons = folder.resolve("skeleton" + round + ".db").toString();
      note(round, "page", firstPage(jar("serve", "--data", data, "--config", config.toString())));
      note(round, "skeleton", firstPage(classes(plain, Skeleton.class, skeletons)));
      note(
          round,
          "page by script",
          firstPage(script("serve", "--data", by, "--config", config.toString())));
      note(round, "measure", whole(jar(measuring)));
      note(
          round,
          "plain",
          whole(classes(plain, PlainMeasure.class, track.toString(), course.toString())));
      note(round, "line", whole(classes(plain, OneLine.class)));
      note(round, "measure by script", whole(script(measuring)));
    }
    rows(table);
  }

  private void rows(Table table) {
    double page = median("page");
    double byScript = median("page by script");
    double skeleton = median("skeleton");
    double measure = median("measure");
    most(table, "first page after the command, empty store", page, 2);
    String held = "the same, held against a plain skeleton of the same libraries in the same jar";
    table.most(held, against(page, skeleton), page / skeleton, OF_THE_SKELETON, " (2 s of 3.7)");
    most(table, "first page after `config/service/milewarden serve`, empty store", byScript, 2);
    table.most(
        "the same, held against that skeleton",
        against(byScript, skeleton),
        byScript / skeleton,
        OF_THE_SKELETON,
        " (2 s of 3.7)");
    most(table, "`measure` of one hour's track", measure, 0.6);
    table.context(
        "the same, held against jpx, GeographicLib and JTS in a process of their own",
        against(measure, median("plain")));
    table.context(
        "the same, held against a program of one line, `java -cp`",
        against(measure, median("line")));
    most(
        table,
        "`config/service/milewarden measure` of one hour's track",
        median("measure by script"),
        0.6);
  }

  private static void most(Table table, String what, double seconds, double most) {
    table.most(what, Table.of(seconds) + " s", seconds, most, " s");
  }

  private static String against(double ours, double theirs) {
    return "%s times %s s".formatted(Table.of(ours / theirs), Table.of(theirs));
  }

  private void note(int round, String side, double took) {
    if (round > 0) seconds.computeIfAbsent(side, s -> new ArrayList<>()).add(took);
  }

  private double median(String side) {
    return Median.of(seconds.getOrDefault(side, List.of()));
  }

  /** The plain programs' own classes and nothing else of the tests', which set up the log anew. */
  private String plainPrograms() throws IOException {
    String name = Skeleton.class.getPackageName().replace('.', '/');
    Path to = folder.resolve("plain").resolve(name);
    Files.createDirectories(to);
    for (String part : System.getProperty("java.class.path").split(File.pathSeparator)) {
      Path from = Path.of(part).resolve(name);
      if (!Files.isDirectory(from)) continue;
      try (Stream<Path> files = Files.list(from)) {
        for (Path file : files.toList()) Files.copy(file, to.resolve(file.getFileName()));
      }
    }
    return folder.resolve("plain").toString();
  }

  private ProcessBuilder jar(String... arguments) {
    return command(List.of("-jar", jar.toString()), arguments);
  }

  /** With the program's jar for the libraries, and with what only tests have of them. */
  private ProcessBuilder classes(String plain, Class<?> main, String... arguments) {
    List<String> path = new ArrayList<>(List.of(plain, jar.toString()));
    for (String part : System.getProperty("java.class.path").split(File.pathSeparator))
      if (Path.of(part).getFileName().toString().matches("(jpx|jts-core)-.*\\.jar")) path.add(part);
    return command(
        List.of("-cp", String.join(File.pathSeparator, path), main.getName()), arguments);
  }

  private static ProcessBuilder command(List<String> java, String... arguments) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(java);
    command.addAll(List.of(arguments));
    return new ProcessBuilder(command);
  }

  /** By the script that keeps an archive of loaded classes. */
  private ProcessBuilder script(String... arguments) {
    List<String> command = new ArrayList<>(List.of("sh", "config/service/milewarden"));
    command.addAll(List.of(arguments));
    ProcessBuilder by = new ProcessBuilder(command);
    by.environment().put("MILEWARDEN_JAR", jar.toString());
    by.environment().put("XDG_CACHE_HOME", folder.resolve("cache").toString());
    return by;
  }

  private static double whole(ProcessBuilder command) throws IOException, InterruptedException {
    long from = System.nanoTime();
    ProcessSpeed.run(command);
    return (System.nanoTime() - from) / 1e9;
  }

  private static double firstPage(ProcessBuilder command) throws IOException, InterruptedException {
    HttpClient browser = HttpClient.newHttpClient();
    long from = System.nanoTime();
    Process server = command.redirectErrorStream(true).start();
    try {
      HttpRequest page = HttpRequest.newBuilder(URI.create(address(server) + "/")).build();
      HttpResponse<String> answer = browser.send(page, HttpResponse.BodyHandlers.ofString());
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
}
