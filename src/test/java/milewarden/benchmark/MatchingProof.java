package milewarden.benchmark;

import java.util.List;
import java.util.Locale;
import java.util.stream.LongStream;
import milewarden.matching.MatchScore;
import milewarden.matching.MatchingCases;

/**
 * Matching against the simulator's truth on many seeds: a table by case. Arguments: how many seeds
 * (100 where none is given), and {@code tune} for the seeds that the matcher may be tuned on: 1, 2,
 * 3 and so on. The others come from digits of e, which nothing was tuned on.
 */
public final class MatchingProof {
  private MatchingProof() {}

  public static void main(String[] args) {
    int seeds = args.length > 0 ? Integer.parseInt(args[0]) : 100;
    boolean tune = args.length > 1 && args[1].equals("tune");
    String only = args.length > 2 ? args[2] : "";
    System.out.printf(
        Locale.ROOT,
        "%-24s %-34s %6s %9s %8s %6s %7s %6s %7s %7s %7s %8s %8s %7s%n",
        "case",
        "",
        "runs",
        "fixes",
        "wrong %",
        "runs",
        "unsure",
        "lost",
        "rms m",
        "noise",
        "added",
        "travel %",
        "rms %",
        "way m");
    long wrong = 0;
    long fixes = 0;
    for (MatchingCases.Case c : MatchingCases.all()) {
      if (!c.group().contains(only) && !c.name().contains(only)) continue;
      MatchScore score = new MatchScore();
      List<Long> all =
          tune
              ? LongStream.rangeClosed(1, seeds).boxed().toList()
              : MatchingCases.freshSeeds(seeds);
      for (long seed : all) score.take(c.maker().make(seed), seed);
      row(c, score);
      if (tune && !score.worst().isEmpty()) System.out.println("   " + score.worst());
      wrong += score.wrong();
      fixes += score.fixes();
    }
    System.out.printf(
        Locale.ROOT, "%-59s %6s %9d %8.4f%n", "all", "", fixes, 100.0 * wrong / fixes);
  }

  private static void row(MatchingCases.Case c, MatchScore s) {
    System.out.printf(
        Locale.ROOT,
        "%-24s %-34s %6d %9d %8.4f %6d %7d %6d %7.2f %7.2f %7.2f %+8.3f %8.3f %7.0f%n",
        c.group(),
        c.name(),
        s.runs(),
        s.fixes(),
        100 * s.wrongShare(),
        s.wrongRuns(),
        s.unsureRuns(),
        s.misplacedRuns(),
        s.chainageRmsM(),
        s.noiseRmsM(),
        s.addedRmsM(),
        100 * s.travelError(),
        100 * s.travelRms(),
        s.runM());
  }
}
