package milewarden.app;

import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigRead;
import milewarden.app.config.ConfigReader;
import milewarden.cli.Places;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.GpxWriter;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;

/** A data folder as a tester fills it. */
final class Household {
  static final ReferenceCourse PIER =
      InventedCourse.straight("pier", new Position(1.0, 2.0), 30, 400);
  // As a tester's, but for the waiting: a file here is whole when it comes.
  static final String QUICK =
      """
      zone: UTC
      port: 0
      inbox: {poll: 20 ms, stand_still: 60 ms}
      """;
  private static final String HEAD =
      "session,date,time,file,unit,firmware,course,carriage,gait,shown,shown_unit\n";

  final Path folder;
  final Path data;
  final Path configFile;

  Household(Path folder) throws IOException {
    this.folder = folder;
    this.data = folder.resolve("data");
    this.configFile = Files.writeString(folder.resolve("milewarden.yaml"), QUICK);
    Files.createDirectories(data.resolve("courses"));
    Files.writeString(data.resolve("courses/pier.geojson"), CourseFile.write(PIER));
  }

  /** Settings beside the usual ones, from the next start. */
  void configure(String more) {
    try {
      Files.writeString(configFile, QUICK + more + "\n");
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  /** What the program makes of its folder and its settings. */
  Config config() {
    return ConfigReader.read(Places.of(data).withConfig(configFile), name -> Optional.empty())
        .fold(
            ConfigRead.Usable::config,
            r -> {
              throw new AssertionError(r.why());
            });
  }

  /** The program, started; to be closed. */
  App serve() {
    return new App(config(), InstantSource.system()).start();
  }

  /** The line of the field sheet of one walk. */
  static String row(String session, Instant at, String file, String firmware, String shownKm) {
    String time = at.toString();
    return String.join(
            ",",
            session,
            time.substring(0, 10),
            time.substring(11, 16),
            file,
            "K1",
            firmware,
            "pier",
            "hand",
            "walk",
            shownKm,
            "km")
        + "\n";
  }

  static byte[] track(Instant at, long seed) {
    Walk walk = Walk.of(PIER).withStart(at);
    Receiver receiver = Receiver.PERFECT.withNoise(1.0, 20, 0.1);
    return GpxWriter.write(TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track())
        .getBytes(StandardCharsets.UTF_8);
  }

  /** The same by a device that gives its name. */
  static byte[] trackOf(String unit, Instant at, long seed) {
    return new String(track(at, seed), StandardCharsets.UTF_8)
        .replaceFirst("creator=\"[^\"]*\"", "creator=\"" + unit + "\"")
        .getBytes(StandardCharsets.UTF_8);
  }

  /** Puts a file into the inbox under a name that it never had before. */
  void drop(String path, byte[] bytes) throws IOException {
    Path file = data.resolve("inbox").resolve(path);
    Files.createDirectories(file.getParent());
    Files.write(file, bytes);
  }

  void dropSheet(String path, String rows) throws IOException {
    drop(path, sheet(rows));
  }

  static byte[] sheet(String rows) {
    return (HEAD + rows).getBytes(StandardCharsets.UTF_8);
  }

  List<String> files(String name) {
    Path root = data.resolve(name);
    if (Files.notExists(root)) return List.of();
    try (Stream<Path> all = Files.walk(root)) {
      return all.filter(Files::isRegularFile)
          .map(f -> root.relativize(f).toString())
          .sorted()
          .toList();
    } catch (IOException | java.io.UncheckedIOException e) {
      // The program moves files while we look.
      return List.of("?");
    }
  }

  List<MimeMessage> messages() throws Exception {
    List<MimeMessage> messages = new ArrayList<>();
    for (String name : files("outbox"))
      if (name.endsWith(".eml"))
        try (InputStream in = Files.newInputStream(data.resolve("outbox").resolve(name))) {
          messages.add(new MimeMessage(null, in));
        }
    return messages;
  }

  /** Day n of an invented season. */
  static Instant day(int n) {
    return Instant.parse("2026-03-02T08:00:00Z").plus(Duration.ofDays(n));
  }
}
