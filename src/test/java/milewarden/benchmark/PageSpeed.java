package milewarden.benchmark;

import java.nio.file.Path;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import milewarden.app.DropToSeen;
import milewarden.app.PageLoad;

/**
 * The pages at 50 requests a second, from a server with 256 MB of heap. The first run fills the
 * store, which takes some minutes; later ones use it as it is.
 */
final class PageSpeed {
  private static final int MODELS = 60;
  private static final int A_SECOND = 50;
  private static final int SECONDS = 20;
  private static final int DROPS = 7;

  private PageSpeed() {}

  static void measure(Table table) throws Exception {
    row(table, 20_000, 50);
  }

  /** As {@link #measure}, with ten times as many runs. */
  static void many(Table table) throws Exception {
    row(table, 200_000, 100);
  }

  /** From the end of the stand-still wait to the page that flags it and the message of it. */
  static void seen(Table table) throws Exception {
    List<Double> seconds =
        DropToSeen.measure(Path.of("target", "lab-20000"), MODELS, 20_000, DROPS);
    table.most(
        "a drop that changes what is said, until it is on the page and its message is written",
        "%s s after the stand-still wait, at most %s"
            .formatted(Table.of(Median.of(seconds)), Table.of(Collections.max(seconds))),
        Median.of(seconds),
        1,
        " s");
  }

  private static void row(Table table, int runs, double most) throws Exception {
    Path folder = Path.of("target", "lab-" + runs);
    PageLoad.Report r = PageLoad.run(folder, MODELS, runs, A_SECOND, SECONDS, "-Xmx256m");
    PageLoad.Line all =
        r.lines().stream().filter(l -> l.kind().equals("all")).findFirst().orElseThrow();
    PageLoad.Line slowest =
        r.lines().stream()
            .filter(l -> !l.kind().equals("all"))
            .max(Comparator.comparingDouble(PageLoad.Line::p95))
            .orElseThrow();
    table.most(
        "pages at %d requests a second, %,d runs of %d models, `-Xmx256m`: 95th percentile"
            .formatted(A_SECOND, r.runs(), MODELS),
        "%s ms; of the slowest, `%s`, %s ms; failed, by status: %s"
            .formatted(
                Table.of(all.p95()),
                slowest.kind(),
                Table.of(slowest.p95()),
                r.failed().isEmpty() ? "none" : r.failed()),
        all.p95(),
        most,
        " ms");
  }
}
