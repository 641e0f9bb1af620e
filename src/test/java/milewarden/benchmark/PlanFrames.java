package milewarden.benchmark;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.Locale;
import java.util.stream.Stream;
import milewarden.app.PlanMoves;

/**
 * Moves a plan of twenty tracks of 3,600 fixes in headless Chromium, and counts the frames that
 * took longer than 50 ms: dragged, come closer to, dragged again, gone back from. The goal is none,
 * but for those that a machine at rest has as well ("nothing").
 */
public final class PlanFrames {
  private PlanFrames() {}

  public static void main(String[] args) throws Exception {
    Path folder = Files.createTempDirectory("milewarden-plan");
    try {
      System.out.printf(
          Locale.ROOT,
          "%-20s %8s %8s %8s %8s %12s %8s%n",
          "ms",
          "frames",
          "median",
          "95 %",
          "longest",
          "over 50 ms",
          "worked");
      for (PlanMoves.Line l : PlanMoves.run(folder))
        System.out.printf(
            Locale.ROOT,
            "%-20s %8d %8.1f %8.1f %8.1f %12d %8.1f%n",
            l.what(),
            l.frames(),
            l.median(),
            l.p95(),
            l.longest(),
            l.over(),
            l.worked());
    } finally {
      try (Stream<Path> all = Files.walk(folder)) {
        all.sorted(Comparator.reverseOrder()).forEach(p -> p.toFile().delete());
      }
    }
  }
}
