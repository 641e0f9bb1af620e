package milewarden.benchmark;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import milewarden.format.TrackFormats;
import milewarden.track.TrackRead;

/**
 * Reads a GPX file of a million fixes, and files of a gigabyte that are refused or read, under a
 * bound of memory: {@code java -Xmx96m -cp target/test-classes:target/classes:...
 * milewarden.benchmark.LargeFileProof}; all of them, or those that are named. It ends by an error
 * where the memory does not do. The files are written for it and taken away.
 */
public final class LargeFileProof {
  private static final long GIGABYTE = 1L << 30;

  private LargeFileProof() {}

  /** What a file is filled with. */
  private enum Filling {
    /** A million fixes of about 113 bytes. */
    MILLION,
    /** A million fixes with every value that a fix can have. */
    FULL,
    /** A gigabyte of fixes: more than are read. */
    MANY,
    /** More than a gigabyte, and in it fewer fixes than are read, with long extensions. */
    LONG,
    /** A gigabyte of one comment. */
    COMMENT,
    /** A gigabyte without an end tag. */
    NESTED
  }

  public static void main(String[] args) throws IOException {
    System.out.printf(Locale.ROOT, "heap at most %d MiB%n", Runtime.getRuntime().maxMemory() >> 20);
    for (Filling filling : Filling.values()) {
      if (args.length > 0 && !List.of(args).contains(filling.name())) continue;
      Path file = Files.createTempFile("large-", ".gpx");
      try {
        write(file, filling);
        read(file, filling);
      } finally {
        Files.delete(file);
      }
    }
  }

  private static void read(Path file, Filling filling) throws IOException {
    long cpu = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    long wall = System.nanoTime();
    try (InputStream in = new BufferedInputStream(Files.newInputStream(file), 1 << 16)) {
      TrackRead read = TrackFormats.read(in);
      System.out.printf(
          Locale.ROOT,
          "%-8s %5d MB  %6.1f s of processor, %6.1f s  %s%n",
          filling.name().toLowerCase(Locale.ROOT),
          Files.size(file) / 1_000_000,
          (ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - cpu) / 1e9,
          (System.nanoTime() - wall) / 1e9,
          read.fold(u -> u.track().size() + " fixes", r -> "refused: " + r.why()));
    }
  }

  private static void write(Path file, Filling filling) throws IOException {
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 20)) {
      out.write(
          "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" creator=\"x\"><trk><trkseg>\n"
              .getBytes(StandardCharsets.US_ASCII));
      if (filling == Filling.COMMENT) out.write("<!--".getBytes(StandardCharsets.US_ASCII));
      long written = 0;
      for (int i = 0;
          filling.compareTo(Filling.FULL) <= 0 ? i < 1_000_000 : written < GIGABYTE;
          i++) {
        byte[] piece = piece(filling, i).getBytes(StandardCharsets.US_ASCII);
        out.write(piece);
        written += piece.length;
      }
      out.write("</trkseg></trk></gpx>\n".getBytes(StandardCharsets.US_ASCII));
    }
  }

  private static String piece(Filling filling, int i) {
    if (filling == Filling.COMMENT) return "never ending, ".repeat(80);
    if (filling == Filling.NESTED) return "<a>".repeat(300);
    String more =
        filling == Filling.LONG ? "<extensions><x>" + "9".repeat(1200) + "</x></extensions>" : "";
    if (filling == Filling.FULL)
      more = "<extensions><distance>" + i + "</distance><speed>1</speed><cad>80</cad></extensions>";
    return String.format(
            Locale.ROOT,
            "<trkpt lat=\"%.7f\" lon=\"13.2500000\"><ele>34.5</ele><time>",
            1e-6 * i % 80)
        + Instant.ofEpochSecond(1_700_000_000L + i)
        + "</time>"
        + more
        + "</trkpt>\n";
  }
}
