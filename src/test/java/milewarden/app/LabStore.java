package milewarden.app;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.format.CourseFile;
import milewarden.format.GpxWriter;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.Marks;
import milewarden.store.run.Runs;

/**
 * A data folder with the runs of a lab: models with six releases each, carried in outings of six
 * models, each run a recording of 400 m with what its display showed; one in twelve is a recording
 * of an hour at 1 Hz over laps of 2.5 km.
 */
final class LabStore {
  private static final int RELEASES = 6;
  private static final int TOGETHER = 6;
  private static final int SESSIONS = 2;
  private static final int DAYS_OF_A_RELEASE = 60;
  private static final int SHAPES = 40;
  private static final int LONG_SHAPES = 4;
  private static final Pattern DATE = Pattern.compile("2026-03-0[0-9]T");
  private static final ReferenceCourse RING =
      InventedCourse.circle("ring", new Position(1.02, 2.02), 2500 / (2 * Math.PI), 600);

  private LabStore() {}

  /**
   * Fills the folder unless it is full, and returns when all is judged: two sessions of each
   * release by the server's own intake, the others as copies of their rows on other days. One that
   * an earlier engine measured is made anew: a server would measure all of it while it is timed.
   */
  static Household fill(Path folder, int models, int runs) throws Exception {
    Path mark = folder.resolve("full");
    boolean full = Files.exists(mark) && Files.readString(mark).equals(Engine.VERSION);
    if (!full && Files.exists(folder)) delete(folder);
    Files.createDirectories(folder);
    Household house = new Household(folder);
    Files.writeString(house.configFile, "zone: UTC\nport: 0\n");
    if (full) return house;
    Files.writeString(house.data.resolve("courses/ring.geojson"), CourseFile.write(RING));
    int dropped = drop(house, models);
    settle(house, dropped);
    LabCopies.make(house.data.resolve("milewarden.db"), runs, DAYS_OF_A_RELEASE - SESSIONS);
    settle(house, 0);
    Files.writeString(mark, Engine.VERSION);
    return house;
  }

  static void delete(Path folder) throws IOException {
    List<Path> all;
    try (Stream<Path> found = Files.walk(folder)) {
      all = found.sorted(Comparator.reverseOrder()).toList();
    }
    for (Path path : all) Files.delete(path);
  }

  /** Lets a server work until nothing is left to be done. */
  static void settle(Household house, int files) throws Exception {
    Child child = Child.start(house, "-Xmx1g", "-XX:TieredStopAtLevel=4");
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      while (!isQuiet(house, database, files)) {
        if (!child.serves()) throw new AssertionError("it ended:\n" + child.said());
        Thread.sleep(200);
      }
    } finally {
      child.stopS();
    }
  }

  private static boolean isQuiet(Household house, Database database, int files) {
    var counts = database.read(ReceivedFiles::counts);
    return counts.values().stream().mapToInt(n -> n).sum() >= files
        && counts.getOrDefault(State.RECEIVED, 0) == 0
        && database.read(Marks::count) == 0
        && house.files("inbox").isEmpty();
  }

  static int runs(Household house) {
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      return database.read(Runs::count);
    }
  }

  private static int drop(Household house, int models) throws IOException {
    List<String> shapes = new ArrayList<>();
    for (int i = 0; i < SHAPES; i++)
      shapes.add(new String(Household.track(Household.day(0), i), StandardCharsets.UTF_8));
    List<String> hours = new ArrayList<>();
    for (int i = 0; i < LONG_SHAPES; i++) hours.add(hour(i));
    LocalDate first = LocalDate.parse("2025-01-01");
    StringBuilder rows = new StringBuilder();
    int files = 0;
    for (int m = 0; m < models; m++)
      for (int r = 0; r < RELEASES; r++)
        for (int n = 0; n < SESSIONS; n++) {
          boolean isLong = n == 0 && m % RELEASES == r;
          String day = first.plusDays(r * DAYS_OF_A_RELEASE + n).toString();
          String shape = isLong ? hours.get(m % LONG_SHAPES) : shapes.get((m * 7 + r + n) % SHAPES);
          String file = "M%02d-%s.gpx".formatted(m, day);
          // Another day and model make another file, the walk is one of a few.
          String text = DATE.matcher(shape).replaceAll(day + "T");
          text = text.replaceFirst("creator=\"[^\"]*\"", "creator=\"M%02d\"".formatted(m));
          house.drop("lab/" + file, text.getBytes(StandardCharsets.UTF_8));
          rows.append(row(m, r, n, day, file, isLong));
          files++;
        }
    house.dropSheet("lab/session.csv", rows.toString());
    return files + 1;
  }

  private static String row(int m, int r, int n, String day, String file, boolean isLong) {
    double error = ((m * 31 + r * 17 + n * 7) % 40 - 20) / 1000.0 + r / 500.0;
    return String.join(
            ",",
            "outing-%d-%s%s".formatted(m / TOGETHER, day, isLong ? "-long" : ""),
            day,
            "08:00",
            file,
            "M%02d".formatted(m),
            "1." + r,
            isLong ? "ring" : "pier",
            "hand",
            isLong ? "run" : "walk",
            "%.3f".formatted((isLong ? 10.0 : 0.4) * (1 + error)),
            "km")
        + "\n";
  }

  private static String hour(long seed) {
    Walk walk =
        Walk.of(RING).withStart(Household.day(0)).withLaps(4).withGait(Gait.RUN, 10_000 / 3570.0);
    Receiver receiver = Receiver.PERFECT.withNoise(2.0, 20, 0.1);
    return GpxWriter.write(TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track());
  }
}
