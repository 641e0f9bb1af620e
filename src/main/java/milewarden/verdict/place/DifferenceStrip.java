package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Bootstrap;

/**
 * Excess length per 10 m of a course's chainage, candidate minus baseline: it shows where a release
 * gains or loses distance. Of the track; both directions and all laps by the same places.
 *
 * @param lengthM of the course
 * @param bins in order of chainage
 * @param totalM sum of the bins' differences, per lap
 */
public record DifferenceStrip(
    String course,
    String courseVersion,
    double lengthM,
    int candidateSessions,
    int baselineSessions,
    List<Bin> bins,
    double totalM) {
  private static final double LEVEL = 0.95;
  // Davison and Hinkley (1997), 5.2.3: a thousand or more for 95 % limits.
  private static final int RESAMPLES = 2_000;
  // Any fixed number: the same data give the same band.
  private static final long SEED = 20_261_125L;
  // Two sessions have one resample that tells anything; below three no band is drawn.
  private static final int FEWEST = 3;

  public DifferenceStrip {
    bins = List.copyOf(bins);
  }

  /**
   * A stretch of the course.
   *
   * @param differenceM metres of excess per lap, candidate minus baseline
   * @param low and {@code high}: 95 % for this place alone, from resampled sessions; empty below
   *     three sessions of either release
   */
  public record Bin(
      double fromM, double toM, double differenceM, OptionalDouble low, OptionalDouble high) {
    /** True where the band leaves zero out. */
    public boolean standsOut() {
      return low.isPresent() && (low.getAsDouble() > 0 || high.getAsDouble() < 0);
    }
  }

  /** Bins whose band leaves zero out; one in twenty does by chance. */
  public long standingOut() {
    return bins.stream().filter(Bin::standsOut).count();
  }

  /**
   * The stretch that stands out most: neighbouring bins, two or more, whose bands all leave zero
   * out on one side. A single bin does so by chance often enough.
   */
  public Optional<Bin> mostApart() {
    Optional<Bin> most = Optional.empty();
    for (int from = 0; from < bins.size(); from++) {
      if (!bins.get(from).standsOut()) continue;
      int to = from;
      double sum = 0;
      double sign = Math.signum(bins.get(from).differenceM());
      while (to < bins.size()
          && bins.get(to).standsOut()
          && Math.signum(bins.get(to).differenceM()) == sign) sum += bins.get(to++).differenceM();
      if (to - from >= 2 && Math.abs(sum) > Math.abs(most.map(Bin::differenceM).orElse(0.0)))
        most =
            Optional.of(
                new Bin(
                    bins.get(from).fromM(),
                    bins.get(to - 1).toM(),
                    sum,
                    OptionalDouble.empty(),
                    OptionalDouble.empty()));
      from = to - 1;
    }
    return most;
  }

  /**
   * Of passes on one version of one course.
   *
   * @return empty where either release has none
   */
  public static Optional<DifferenceStrip> of(
      Collection<PlacedPass> candidate, Collection<PlacedPass> baseline) {
    if (candidate.isEmpty() || baseline.isEmpty()) return Optional.empty();
    PlacedPass any = candidate.iterator().next();
    int bins = any.bins();
    double[][] after = rows(candidate, bins);
    double[][] before = rows(baseline, bins);
    int[][] drawAfter = Bootstrap.draws(after.length, RESAMPLES, SEED);
    int[][] drawBefore = Bootstrap.draws(before.length, RESAMPLES, SEED + 1);
    List<Bin> made = new ArrayList<>();
    double total = 0;
    for (int bin = 0; bin < bins; bin++) {
      double[] a = column(after, bin);
      double[] b = column(before, bin);
      double difference = mean(a) - mean(b);
      total += difference;
      made.add(bin(bin, any.lengthM(), difference, band(a, b, drawAfter, drawBefore)));
    }
    return Optional.of(
        new DifferenceStrip(
            any.condition().course(),
            any.condition().courseVersion(),
            any.lengthM(),
            after.length,
            before.length,
            made,
            total));
  }

  private static double[][] rows(Collection<PlacedPass> passes, int bins) {
    return SessionMeans.of(passes, bins).values().toArray(double[][]::new);
  }

  private static Bin bin(int i, double lengthM, double difference, Optional<Bootstrap> band) {
    double from = i * PlacedPass.BIN_M;
    return new Bin(
        from,
        Math.min(lengthM, from + PlacedPass.BIN_M),
        difference,
        band.map(x -> OptionalDouble.of(x.low())).orElse(OptionalDouble.empty()),
        band.map(x -> OptionalDouble.of(x.high())).orElse(OptionalDouble.empty()));
  }

  /** Whole sessions are drawn again, within each release; the same draws for all places. */
  private static Optional<Bootstrap> band(double[] a, double[] b, int[][] drawA, int[][] drawB) {
    int fewest = Math.min(a.length, b.length);
    if (fewest < FEWEST) return Optional.empty();
    double[] replicates = new double[RESAMPLES];
    for (int r = 0; r < RESAMPLES; r++)
      replicates[r] = weighted(a, drawA[r]) - weighted(b, drawB[r]);
    return Optional.of(Bootstrap.expandedPercentile(replicates, fewest, LEVEL));
  }

  private static double weighted(double[] x, int[] counts) {
    double sum = 0;
    for (int i = 0; i < x.length; i++) sum += counts[i] * x[i];
    return sum / x.length;
  }

  private static double[] column(double[][] rows, int bin) {
    double[] column = new double[rows.length];
    for (int i = 0; i < rows.length; i++) column[i] = rows[i][bin];
    return column;
  }

  private static double mean(double[] x) {
    double sum = 0;
    for (double v : x) sum += v;
    return sum / x.length;
  }
}
