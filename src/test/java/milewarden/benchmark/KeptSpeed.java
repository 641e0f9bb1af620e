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
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.track.TagName;

/**
 * Files of an hour from a folder into the store, with bytes, results and series, beside reading and
 * measuring the same bytes and keeping nothing.
 */
final class KeptSpeed {
  private static final int FILES = 32;
  private static final int ROUNDS = 5;

  private final List<byte[]> files = new ArrayList<>();

  static void measure(Table table) throws IOException, SQLException {
    new KeptSpeed().rows(table);
  }

  private KeptSpeed() {
    String text = new String(Hour.LOOP_MIN.gpx, StandardCharsets.UTF_8);
    LocalDate first = LocalDate.parse("2025-01-01");
    for (int i = 0; i < FILES; i++)
      files.add(
          text.replace("2026-05-12T", first.plusDays(i) + "T").getBytes(StandardCharsets.UTF_8));
  }

  private void rows(Table table) throws IOException, SQLException {
    List<Double> kept = new ArrayList<>();
    List<Double> computed = new ArrayList<>();
    List<Double> perSecond = new ArrayList<>();
    double seriesBytes = 0;
    // Rounds first that nobody counts: 300 files are gone by then, one way or the other.
    for (int round = -5; round < ROUNDS; round++) {
      long from = CpuTime.processNs();
      double sum = 0;
      for (byte[] b : files)
        sum +=
            Measurer.measure(PipelineBenchmark.read(b), Hour.LOOP_MIN.course, MeasureOptions.NONE)
                .trackLengthM();
      double compute = CpuTime.processNs() - from;
      if (Double.isNaN(sum)) throw new IllegalStateException("no result");
      Path folder = Files.createTempDirectory("kept");
      try {
        double[] took = keep(folder);
        seriesBytes = took[2];
        if (round < 0) continue;
        computed.add(compute / FILES);
        kept.add(took[0] / FILES);
        perSecond.add(FILES / took[1]);
      } finally {
        Folders.delete(folder);
      }
    }
    double ratio = Median.of(kept) / Median.of(computed);
    table.most(
        "bytes, result and series of an hour kept, from the folder into the store",
        "%s ms, %s times reading and measuring alone"
            .formatted(Table.of(Median.of(kept) / 1e6), Table.of(ratio)),
        ratio,
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

  /** Nanoseconds of processor, seconds on the clock, bytes a fix of a series. */
  private double[] keep(Path folder) throws IOException, SQLException {
    Path courses = Files.createDirectories(folder.resolve("courses"));
    Files.writeString(courses.resolve("loop.geojson"), CourseFile.write(Hour.LOOP_MIN.course));
    for (int i = 0; i < files.size(); i++) {
      Path file = folder.resolve("in/U%d/1.0/hand/%d.gpx".formatted(i % 8, i));
      Files.createDirectories(file.getParent());
      Files.write(file, files.get(i));
    }
    StoreSettings settings = StoreSettings.in(folder.resolve("data"));
    InboxSettings inbox =
        new InboxSettings(
            Duration.ZERO, Duration.ZERO, Duration.ofHours(3), Map.of(TagName.GAIT, "run"));
    double cpu;
    double clock;
    try (Database database = Database.open(settings, InstantSource.system())) {
      new CourseFolder(courses, Duration.ZERO, database, InstantSource.system(), () -> {}).sweep();
      Measuring measuring = new Measuring(database, inbox, ZoneOffset.UTC, () -> {});
      long from = CpuTime.processNs();
      long start = System.nanoTime();
      List<Received> taken =
          new FolderIntake(database, measuring::work, Duration.ZERO, d -> {})
              .take(folder.resolve("in"))
              .files();
      clock = (System.nanoTime() - start) / 1e9;
      cpu = CpuTime.processNs() - from;
      for (Received file : taken)
        if (file.state() != State.MEASURED) throw new IllegalStateException(file + "");
      if (taken.size() != FILES) throw new IllegalStateException(taken.size() + " files");
    }
    return new double[] {cpu, clock, seriesBytesAFix(settings)};
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
