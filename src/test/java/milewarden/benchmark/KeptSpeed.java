package milewarden.benchmark;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.format.CourseFile;
import milewarden.intake.CourseFolder;
import milewarden.intake.InboxSettings;
import milewarden.intake.Measuring;
import milewarden.intake.drop.FolderIntake;
import milewarden.intake.drop.OneByOne;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.track.TagName;

/**
 * Files of an hour from a folder into a store that stays open, with bytes, results and series,
 * beside reading and measuring the same bytes and keeping nothing. Both go over all processors, as
 * on a server, for what is done side by side takes more of each; both without the compilers of the
 * virtual machine, as every other figure is: after 1,000 files those still took a tenth of the
 * store's side. Every file has a name of its own, as files have that are named by their day.
 */
final class KeptSpeed {
  private static final int FILES = 32;
  // What keeps settles later than what computes. A server is warm nearly always.
  private static final int UNCOUNTED = 60;
  private static final int ROUNDS = 21;

  private final String text = new String(Hour.LOOP_MIN.gpx, StandardCharsets.UTF_8);

  static void measure(Table table) throws IOException, SQLException {
    Path folder = Files.createTempDirectory("kept");
    try {
      new KeptSpeed().rows(table, folder);
    } finally {
      Folders.delete(folder);
    }
  }

  private KeptSpeed() {}

  /** The same hour on other days, each day once. */
  private List<byte[]> files(int round) {
    LocalDate first = LocalDate.parse("2020-01-01").plusDays((long) round * FILES);
    List<byte[]> files = new ArrayList<>();
    for (int i = 0; i < FILES; i++)
      files.add(
          text.replace("2026-05-12T", first.plusDays(i) + "T").getBytes(StandardCharsets.UTF_8));
    return files;
  }

  private void rows(Table table, Path folder) throws IOException, SQLException {
    List<Double> kept = new ArrayList<>();
    List<Double> computed = new ArrayList<>();
    List<Double> perSecond = new ArrayList<>();
    StoreSettings settings = StoreSettings.in(folder.resolve("data"));
    InboxSettings inbox =
        new InboxSettings(
            Duration.ZERO, Duration.ZERO, Duration.ofHours(3), Map.of(TagName.GAIT, "run"));
    Path courses = Files.createDirectories(folder.resolve("courses"));
    Files.writeString(courses.resolve("loop.geojson"), CourseFile.write(Hour.LOOP_MIN.course));
    try (Database database = Database.open(settings, InstantSource.system())) {
      new CourseFolder(courses, Duration.ZERO, database, InstantSource.system(), () -> {}).sweep();
      Measuring measuring = new Measuring(database, inbox, ZoneOffset.UTC, () -> {});
      for (int round = 0; round < UNCOUNTED + ROUNDS; round++) {
        List<byte[]> files = files(round);
        double compute = compute(files);
        double[] took = keep(database, measuring, files, folder, round);
        if (round < UNCOUNTED) continue;
        computed.add(compute / FILES);
        kept.add(took[0] / FILES);
        perSecond.add(FILES / took[1]);
      }
    }
    double seriesBytes = seriesBytesAFix(settings);
    double ratio = Median.of(kept) / Median.of(computed);
    table.most(
        "keeping bytes, result and series of an hour, from the folder into the store",
        "%s times reading and measuring alone; all together %s ms"
            .formatted(Table.of(ratio - 1), Table.of(Median.of(kept) / 1e6)),
        ratio - 1,
        1.6,
        " times");
    table.least(
        "files of an hour a second, measured and kept",
        Table.of(Median.of(perSecond)),
        Median.of(perSecond),
        100,
        "");
    table.most("a series, bytes a fix", Table.of(seriesBytes), seriesBytes, 7, "");
  }

  /** Nanoseconds of processor. */
  private static double compute(List<byte[]> files) {
    CpuTime.Start from = CpuTime.startWarm();
    List<Double> lengths = OneByOne.map(files, KeptSpeed::trackLengthM);
    double took = from.ns();
    if (lengths.contains(Double.NaN)) throw new IllegalStateException("no result");
    return took;
  }

  private static double trackLengthM(byte[] file) {
    return Measurer.measure(PipelineBenchmark.read(file), Hour.LOOP_MIN.course, MeasureOptions.NONE)
        .trackLengthM();
  }

  /** Nanoseconds of processor, seconds on the clock. */
  private static double[] keep(
      Database database, Measuring measuring, List<byte[]> files, Path in, int round)
      throws IOException {
    Path folder = in.resolve("in" + round);
    for (int i = 0; i < files.size(); i++) {
      Path file = folder.resolve("U%d/1.0/hand/%d-%d.gpx".formatted(i % 8, round, i));
      Files.createDirectories(file.getParent());
      Files.write(file, files.get(i));
    }
    CpuTime.Start from = CpuTime.startWarm();
    long start = System.nanoTime();
    List<Received> taken =
        new FolderIntake(database, measuring::work, Duration.ZERO, d -> {}).take(folder).files();
    double clock = (System.nanoTime() - start) / 1e9;
    double cpu = from.ns();
    for (Received file : taken)
      if (file.state() != State.MEASURED) throw new IllegalStateException(file + "");
    if (taken.size() != FILES) throw new IllegalStateException(taken.size() + " files");
    return new double[] {cpu, clock};
  }

  private static double seriesBytesAFix(StoreSettings settings) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + settings.file());
        Statement statement = connection.createStatement();
        ResultSet r = statement.executeQuery("select avg(length(series)) from result")) {
      r.next();
      return r.getDouble(1) / Hour.LOOP_MIN.track.size();
    }
  }
}
