package milewarden.benchmark;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.Locale;
import java.util.stream.Stream;
import milewarden.app.YearOfALab;
import milewarden.format.CourseFile;

/**
 * Thousands of recordings dropped at once (the first argument; 10,000 usually) on a server with
 * little memory (the second; -Xmx256m usually), asked for 50 pages a second meanwhile, then its
 * pages one by one; with {@code hour} as the third argument recordings of an hour, 0.4 MB each, and
 * one page a second, else of some minutes. What it takes is a figure of the machine; that it comes
 * through at all, and how its parts grow, is what it is for.
 */
public final class YearBenchmark {
  private YearBenchmark() {}

  public static void main(String[] args) throws Exception {
    int files = args.length > 0 ? Integer.parseInt(args[0]) : 10_000;
    String memory = args.length > 1 ? args[1] : "-Xmx256m";
    Path folder = Files.createTempDirectory("milewarden-year");
    try {
      YearOfALab.Report r =
          args.length > 2
              ? YearOfALab.run(
                  folder,
                  files,
                  memory,
                  1,
                  new String(Hour.LOOP_MIN.gpx, StandardCharsets.UTF_8)
                      .replace("2026-05-12T", "2026-03-01T"),
                  CourseFile.write(Hour.LOOP_MIN.course))
              : YearOfALab.run(folder, files, memory, 50);
      System.out.printf(
          Locale.ROOT,
          "%d files with %s: in the store after %.0f s, measured and judged after %.0f s (%.0f files"
              + " a second), %d runs, at most %d MB of memory in all; meanwhile %d pages served, %d"
              + " not, the longest after %d ms%n",
          r.files(),
          memory,
          r.takenS(),
          r.judgedS(),
          r.files() / r.judgedS(),
          r.runs(),
          r.peakMb(),
          r.served(),
          r.failed(),
          r.longestMs());
      r.pages().forEach(System.out::println);
    } finally {
      try (Stream<Path> all = Files.walk(folder)) {
        all.sorted(Comparator.reverseOrder()).forEach(p -> p.toFile().delete());
      }
    }
  }
}
