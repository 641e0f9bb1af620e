package milewarden.app;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.Marks;
import milewarden.store.run.Runs;

/**
 * A year of a small lab in one go: thousands of recordings dropped at once on a server with little
 * memory, measured and judged, then its pages asked for.
 */
public final class YearOfALab {
  private static final int DEVICES = 25;
  private static final int RELEASES = 4;
  private static final int SHAPES = 40;
  private static final Pattern DATE = Pattern.compile("2026-03-(\\d\\d)T");

  private final Household house;
  private final int files;

  private final List<String> shapes;

  private YearOfALab(Path folder, int files, List<String> shapes) throws IOException {
    this.house = new Household(folder);
    this.files = files;
    this.shapes = shapes;
    Files.writeString(
        house.configFile,
        """
        zone: UTC
        port: 0
        defaults: {gait: walk}
        """);
  }

  /**
   * What was measured.
   *
   * @param takenS from the first file that the server sees to the last that is in the store
   * @param judgedS to the last that is measured and judged, and nothing left in the inbox
   * @param peakMb of the process's memory, by the operating system
   * @param served pages that were answered while it worked
   * @param failed pages that were not, or not with 200
   * @param longestMs the longest that one of them took
   * @param pages a line each
   */
  public record Report(
      int files,
      double takenS,
      double judgedS,
      long peakMb,
      int runs,
      int served,
      int failed,
      long longestMs,
      List<String> pages) {}

  /**
   * Drops the files and starts the server on them with this memory.
   *
   * @param aSecond pages that are asked for while it measures and judges
   */
  public static Report run(Path folder, int files, String memory, int aSecond) throws Exception {
    List<String> shapes = new ArrayList<>();
    for (int i = 0; i < SHAPES; i++)
      shapes.add(new String(Household.track(Household.day(0), i), StandardCharsets.UTF_8));
    return new YearOfALab(folder, files, shapes).run(memory, aSecond);
  }

  /**
   * As {@link #run(Path, int, String, int)}, of recordings of an hour.
   *
   * @param hour a recording whose times lie in March 2026
   * @param course the file of the course that it lies on
   */
  public static Report run(
      Path folder, int files, String memory, int aSecond, String hour, String course)
      throws Exception {
    YearOfALab year = new YearOfALab(folder, files, List.of(hour));
    Files.writeString(year.house.data.resolve("courses/hour.geojson"), course);
    return year.run(memory, aSecond);
  }

  private Report run(String memory, int aSecond) throws Exception {
    drop();
    Child child = Child.start(house, memory, "-XX:TieredStopAtLevel=4");
    if (!child.serves()) throw new AssertionError(child.said());
    long start = System.nanoTime();
    Readers readers = new Readers(address(child), aSecond);
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      while (received(database) < files) pause(child);
      double taken = (System.nanoTime() - start) / 1e9;
      while (!isQuiet(database)) pause(child);
      double judged = (System.nanoTime() - start) / 1e9;
      readers.close();
      List<String> pages = pages(child);
      return new Report(
          files,
          taken,
          judged,
          peakMb(child.pid()),
          database.read(Runs::count),
          readers.served(),
          readers.failed(),
          readers.longestMs(),
          pages);
    } finally {
      child.kill();
    }
  }

  private void drop() throws IOException {
    LocalDate first = LocalDate.parse("2025-01-01");
    for (int i = 0; i < files; i++) {
      int device = i % DEVICES;
      int nth = i / DEVICES;
      int release = nth * DEVICES * RELEASES / files;
      String day = first.plusDays(nth).toString();
      // Another day and another name make another file, the walk is one of a few.
      Matcher dates = DATE.matcher(shapes.get((i * 7 + nth) % shapes.size()));
      String path = "D%02d/1.%d/hand/%s.gpx".formatted(device, release, day);
      String text =
          dates
              .replaceAll(day + "T")
              .replaceFirst("<trk>", "<trk><name>D%02d</name>".formatted(device));
      house.drop(path, text.getBytes(StandardCharsets.UTF_8));
    }
  }

  private static int received(Database database) {
    return database.read(ReceivedFiles::counts).values().stream().mapToInt(n -> n).sum();
  }

  private boolean isQuiet(Database database) {
    return database.read(ReceivedFiles::counts).getOrDefault(State.RECEIVED, 0) == 0
        && database.read(Marks::count) == 0
        && house.files("inbox").isEmpty();
  }

  private static void pause(Child child) throws InterruptedException {
    if (!child.serves()) throw new AssertionError("it ended:\n" + child.said());
    Thread.sleep(200);
  }

  // VmHWM of proc(5): the most memory that the process ever had.
  private static long peakMb(long pid) throws IOException {
    Path status = Path.of("/proc/" + pid + "/status");
    if (Files.notExists(status)) return -1;
    for (String line : Files.readAllLines(status))
      if (line.startsWith("VmHWM:")) return Long.parseLong(line.replaceAll("\\D", "")) / 1024;
    return -1;
  }

  private static String address(Child child) {
    Matcher address = Pattern.compile("http://127.0.0.1:\\d+").matcher(child.said());
    if (!address.find()) throw new AssertionError(child.said());
    return address.group();
  }

  private List<String> pages(Child child) throws Exception {
    String address = address(child);
    HttpClient client = HttpClient.newHttpClient();
    List<String> lines = new ArrayList<>();
    for (String page : List.of("/", "/models/1", "/due", "/intake", "/runs/77", "/settings")) {
      List<Double> times = new ArrayList<>();
      HttpRequest request = HttpRequest.newBuilder(URI.create(address + page)).build();
      int size = 0;
      int status = 0;
      for (int i = 0; i < 40; i++) {
        long from = System.nanoTime();
        HttpResponse<byte[]> answer = client.send(request, HttpResponse.BodyHandlers.ofByteArray());
        times.add((System.nanoTime() - from) / 1e6);
        size = answer.body().length;
        status = answer.statusCode();
      }
      // The first ones warm it up.
      List<Double> warm = times.subList(10, 40).stream().sorted().toList();
      lines.add(
          "%s (%d, %d kB): median %.0f ms, 95th percentile %.0f ms, first %.0f ms"
              .formatted(page, status, size / 1024, warm.get(15), warm.get(28), times.get(0)));
    }
    return lines;
  }
}
