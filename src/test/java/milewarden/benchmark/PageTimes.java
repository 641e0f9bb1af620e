package milewarden.benchmark;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import milewarden.app.PageLoad;

/**
 * How long every kind of page takes with a year of a small lab in the store: FOLDER RUNS PER_SECOND
 * SECONDS [arriving N] [options of the server's Java]. The folder is filled the first time (20,000
 * runs take some minutes) and used as it is afterwards. The goal: the 95th percentile of all below
 * 50 ms at 50 a second with 20,000 runs of 60 models and with {@code -Xmx256m}; below twice that
 * with 200,000. With {@code arriving 30} so many recordings a minute come in meanwhile by the
 * watched folder, are measured and judged, and stay in the store: give it a copy of one.
 */
public final class PageTimes {
  private static final int MODELS = 60;

  private PageTimes() {}

  public static void main(String[] args) throws Exception {
    Path folder = Path.of(args.length > 0 ? args[0] : "target/lab-20000");
    int runs = number(args, 1, 20_000);
    int perSecond = number(args, 2, 50);
    int seconds = number(args, 3, 60);
    int arriving = args.length > 5 && args[4].equals("arriving") ? number(args, 5, 0) : 0;
    int own = arriving > 0 ? 6 : 4;
    String[] options =
        args.length > own ? Arrays.copyOfRange(args, own, args.length) : new String[] {"-Xmx256m"};
    PageLoad.Report r = PageLoad.run(folder, MODELS, runs, perSecond, seconds, arriving, options);
    System.out.printf(
        Locale.ROOT,
        "%d runs, %d requests a second for %d s, %s; at most %d MB of memory; failed: %s%n"
            + "the first overview after %.0f ms; %d recordings came in, the last judged %.1f s later%n",
        r.runs(),
        perSecond,
        seconds,
        String.join(" ", options),
        r.peakMb(),
        r.failed().isEmpty() ? "none" : "by status " + r.failed(),
        r.firstMs(),
        r.arrived(),
        r.judgedS());
    System.out.printf(
        Locale.ROOT,
        "%-28s %6s %8s %8s %8s %8s %8s %6s%n",
        "ms",
        "n",
        "median",
        "95 %",
        "99 %",
        "slowest",
        "cpu",
        "kB");
    for (PageLoad.Line l : r.lines())
      System.out.printf(
          Locale.ROOT,
          "%-28s %6d %8.1f %8.1f %8.1f %8.1f %8.1f %6d%n",
          l.kind(),
          l.n(),
          l.median(),
          l.p95(),
          l.p99(),
          l.slowest(),
          l.cpu(),
          l.kB());
  }

  private static int number(String[] args, int at, int otherwise) {
    return args.length > at ? Integer.parseInt(args[at]) : otherwise;
  }
}
