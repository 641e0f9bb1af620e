package milewarden.benchmark;

import java.nio.file.Files;
import java.nio.file.Path;
import milewarden.app.PagesUnderLoad;

/** The pages at 50 requests a second, from a server with 256 MB of heap. */
final class PageSpeed {
  private PageSpeed() {}

  static void measure(Table table) throws Exception {
    PagesUnderLoad.Report some = at(20_000);
    row(table, some, 50);
  }

  /** As {@link #measure}, with ten times as many runs; it takes some minutes. */
  static void many(Table table) throws Exception {
    row(table, at(200_000), 100);
  }

  private static void row(Table table, PagesUnderLoad.Report r, double most) {
    table.most(
        "pages at 50 requests a second, %,d runs, 95th percentile".formatted(r.runs()),
        "%s ms; slowest page %s".formatted(Table.of(r.p95Ms()), r.slowest()),
        r.p95Ms(),
        most,
        " ms");
    table.context(
        "reading and judging those runs anew at the start, %d models".formatted(r.models()),
        "%s s with -Xmx256m".formatted(Table.of(r.judgedS())));
  }

  private static PagesUnderLoad.Report at(int runs) throws Exception {
    Path folder = Files.createTempDirectory("pages");
    try {
      return PagesUnderLoad.at(folder, runs);
    } finally {
      Folders.delete(folder);
    }
  }
}
