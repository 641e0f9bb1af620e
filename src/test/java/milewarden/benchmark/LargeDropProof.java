package milewarden.benchmark;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.RandomAccessFile;
import java.lang.management.ManagementFactory;
import java.lang.management.MemoryPoolMXBean;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.geodesy.Position;
import milewarden.intake.InboxSettings;
import milewarden.intake.Measuring;
import milewarden.intake.drop.Inbox;
import milewarden.simulator.InventedCourse;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.run.Courses;
import milewarden.track.TagName;

/**
 * Drops files of up to a gigabyte into an inbox with little memory, and tells what became of each:
 * {@code java -Xmx256m -cp target/test-classes:target/classes:...
 * milewarden.benchmark.LargeDropProof}; all of them, or those that are named. It ends by an error
 * where one stays in the inbox, or its bytes differ from those kept. The files are written for it
 * and taken away.
 */
public final class LargeDropProof {
  private static final long GIGABYTE = 1L << 30;
  private static final int MOST_FIXES = 1_000_000;

  private final Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");

  private LargeDropProof(Path data) {
    this.data = data;
  }

  private enum File {
    /** A million fixes: eleven days at one a second, round and round a lap of 400 m. */
    LAPS("gpx"),
    /** The same, packed. */
    PACKED("gpx.gz"),
    /** Just below a gigabyte, 700,000 fixes with long extensions. */
    LONG("gpx"),
    /** Just below a gigabyte of fixes: more than are read. */
    MANY("gpx"),
    /** What is no recording and does not deflate; 300 MB. */
    NOISE("bin"),
    /** Larger than any reader takes: a hole in the file system. */
    BEYOND("mov");

    private final String ending;

    File(String ending) {
      this.ending = ending;
    }
  }

  public static void main(String[] args) throws IOException {
    System.out.printf(Locale.ROOT, "heap at most %d MiB%n", Runtime.getRuntime().maxMemory() >> 20);
    for (File file : File.values()) {
      if (args.length > 0 && !List.of(args).contains(file.name())) continue;
      Path data = Files.createTempDirectory("large-drop-");
      try {
        new LargeDropProof(data).drop(file);
      } finally {
        try (Stream<Path> all = Files.walk(data)) {
          all.sorted(Comparator.reverseOrder()).forEach(p -> p.toFile().delete());
        }
      }
    }
  }

  private void drop(File file) throws IOException {
    Path folder = Files.createDirectories(data.resolve("inbox/K1/1.0/hand"));
    Path dropped = folder.resolve(file.name().toLowerCase(Locale.ROOT) + "." + file.ending);
    write(dropped, file);
    long bytes = Files.size(dropped);
    for (MemoryPoolMXBean pool : ManagementFactory.getMemoryPoolMXBeans()) pool.resetPeakUsage();
    long start = System.nanoTime();
    try (Database database = Database.open(StoreSettings.in(data), () -> now)) {
      course(database);
      InboxSettings usual = InboxSettings.DEFAULTS;
      Inbox inbox = new Inbox(data, usual.standStill(), database, () -> now, () -> {});
      Measuring measuring =
          new Measuring(
              database,
              new InboxSettings(
                  usual.poll(),
                  usual.standStill(),
                  usual.sessionGap(),
                  Map.of(TagName.GAIT, "walk")),
              ZoneOffset.UTC,
              () -> {});
      inbox.sweep();
      now = now.plus(Duration.ofSeconds(3));
      inbox.sweep();
      double storedS = (System.nanoTime() - start) / 1e9;
      measuring.work();
      inbox.sweep();
      double settledS = (System.nanoTime() - start) / 1e9;
      if (Files.exists(dropped)) throw new IllegalStateException("it stays in the inbox");
      List<Received> rows =
          database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 10));
      for (Received row : rows) {
        boolean kept = database.<Boolean>read(tx -> Contents.isKept(tx, row.sha256()));
        System.out.printf(
            Locale.ROOT,
            "%-7s %5d MB, in the store after %.0f s, settled after %.0f s, heap at its peaks %d MiB:"
                + " %s, bytes %s%n        %s%n",
            file,
            bytes / 1_000_000,
            storedS,
            settledS,
            peakMiB(),
            row.state(),
            kept ? "kept" : "in the folder refused",
            row.reason().map(r -> r.place() + ": " + r.sentence()).orElse(""));
      }
    }
  }

  /** Of the heap's pools one by one, which need not have peaked together. */
  private static long peakMiB() {
    return ManagementFactory.getMemoryPoolMXBeans().stream()
            .filter(p -> p.getType() == java.lang.management.MemoryType.HEAP)
            .mapToLong(p -> p.getPeakUsage().getUsed())
            .sum()
        >> 20;
  }

  private static void course(Database database) {
    ReferenceCourse loop = InventedCourse.circle("loop", new Position(1.1, 2.0), 63.66, 120);
    byte[] bytes = CourseFile.write(loop).getBytes(StandardCharsets.UTF_8);
    ReferenceCourse read =
        CourseFile.read(bytes)
            .fold(
                u -> u.course(),
                r -> {
                  throw new IllegalStateException("" + r.issues());
                });
    database.change(tx -> Courses.put(tx, read, "loop.geojson", Contents.pack(bytes), List.of()));
  }

  private static void write(Path to, File file) throws IOException {
    if (file == File.BEYOND) {
      try (RandomAccessFile hole = new RandomAccessFile(to.toFile(), "rw")) {
        hole.setLength(GIGABYTE + 1);
      }
      return;
    }
    try (OutputStream plain = new BufferedOutputStream(Files.newOutputStream(to), 1 << 20);
        OutputStream out = file == File.PACKED ? new GZIPOutputStream(plain, 1 << 16) : plain) {
      if (file == File.NOISE) noise(out);
      else gpx(out, file);
    }
  }

  private static void noise(OutputStream out) throws IOException {
    Random random = new Random(5);
    byte[] piece = new byte[1_000_000];
    for (int i = 0; i < 300; i++) {
      random.nextBytes(piece);
      out.write(piece);
    }
  }

  private static void gpx(OutputStream out, File file) throws IOException {
    out.write(
        "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" creator=\"x\"><trk><trkseg>\n"
            .getBytes(StandardCharsets.US_ASCII));
    int fixes = file == File.LONG ? 700_000 : file == File.MANY ? Integer.MAX_VALUE : MOST_FIXES;
    String more =
        file == File.LONG ? "<extensions><x>" + "9".repeat(1350) + "</x></extensions>" : "";
    long written = 0;
    for (int i = 0; i < fixes && written < GIGABYTE - 10_000; i++) {
      // 1.3 m/s, now faster and now slower, round a circle of 63.66 m; metres a degree there by the
      // ellipsoid of WGS84.
      double angle = (1.3 * i + 60 * Math.sin(i / 700.0)) / 63.66;
      String fix =
          String.format(
                  Locale.ROOT,
                  "<trkpt lat=\"%.7f\" lon=\"%.7f\"><ele>34.5</ele><time>",
                  1.1 + 63.66 * Math.cos(angle) / 110_575,
                  2.0 + 63.66 * Math.sin(angle) / 111_300)
              + Instant.ofEpochSecond(1_700_000_000L + i)
              + "</time>"
              + more
              + "</trkpt>\n";
      byte[] piece = fix.getBytes(StandardCharsets.US_ASCII);
      out.write(piece);
      written += piece.length;
    }
    out.write("</trkseg></trk></gpx>\n".getBytes(StandardCharsets.US_ASCII));
  }
}
