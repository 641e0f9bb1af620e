package milewarden.benchmark;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.Locale;
import java.util.stream.Stream;
import milewarden.app.Faults;

/**
 * Nothing is lost, seed after seed: 500 files dropped in every way that people have on a server
 * that is killed at every boundary between its stages and at random moments, while its store is
 * locked, its folders blocked and its disk full. Arguments: number of seeds, the first of them,
 * files, random ends per seed; as root on Linux the data folder is a small file system of its own,
 * else the disk never fills up.
 */
public final class FaultProof {
  private FaultProof() {}

  public static void main(String[] args) throws Exception {
    int seeds = args.length > 0 ? Integer.parseInt(args[0]) : 3;
    long first = args.length > 1 ? Long.parseLong(args[1]) : 1;
    int files = args.length > 2 ? Integer.parseInt(args[2]) : 500;
    int ends = args.length > 3 ? Integer.parseInt(args[3]) : 12;
    int lost = 0;
    for (long seed = first; seed < first + seeds; seed++) {
      Path folder = Files.createTempDirectory("milewarden-faults");
      boolean small = mount(folder, files);
      try {
        Faults.Report r = Faults.run(seed, files, ends, folder, small);
        System.out.printf(
            Locale.ROOT,
            "seed %d: %d files, %d kills (at %d boundaries, missed %s), %d stops (longest %.1f s),"
                + " %d starts refused, %s, %d messages (%d of them twice): %s%n",
            r.seed(),
            r.files(),
            r.kills(),
            r.boundaries().size(),
            r.missed(),
            r.stops() + 1,
            r.longestStopS(),
            r.refusedStarts(),
            r.mischief(),
            r.messages(),
            r.twice(),
            r.losses().isEmpty() ? "nothing lost" : r.losses().size() + " LOSSES");
        r.losses().stream().limit(20).forEach(l -> System.out.println("  " + l));
        lost += r.losses().size() + r.missed().size();
      } finally {
        if (small) new ProcessBuilder("umount", folder.toString()).start().waitFor();
        delete(folder);
      }
    }
    System.exit(lost == 0 ? 0 : 1);
  }

  // Room for the files twice over: in the store and in `done`.
  private static boolean mount(Path folder, int files) throws IOException, InterruptedException {
    String size = "size=" + (40 + files / 6) + "m";
    return new ProcessBuilder("mount", "-t", "tmpfs", "-o", size, "tmpfs", folder.toString())
            .start()
            .waitFor()
        == 0;
  }

  private static void delete(Path folder) {
    try (Stream<Path> all = Files.walk(folder)) {
      all.sorted(Comparator.reverseOrder()).forEach(p -> p.toFile().delete());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
