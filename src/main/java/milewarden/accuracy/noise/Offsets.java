package milewarden.accuracy.noise;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Order;

/** Statistics of the offsets of a pass, and how long an offset lasts. */
public final class Offsets {
  private static final int FEWEST = 60;
  // A lasting part below this share of the variance is too small to say how long it lasts.
  private static final double LEAST = 0.15;
  // Student's t for 95 % and one fewer degrees of freedom than blocks: NIST/SEMATECH e-Handbook,
  // 1.3.6.7.2. How long errors last, on which the other intervals rest, is not known better.
  static final double T_BLOCKS = 2.262;
  // Efficiency of the median absolute deviation for independent normals: Rousseeuw and Croux
  // (1993), Alternatives to the median absolute deviation, JASA 88, 1273-1283.
  private static final double MAD_EFFICIENCY = 0.37;

  private final double[] offset;
  private final double[] sorted;
  private final double mean;
  private final double sigma;
  private final Optional<Variogram> variogram;
  private final Variogram.Fit fit;

  /**
   * @param offset of the fixes, metres, at least one
   */
  public Offsets(double[] offset) {
    this(offset, Order.sorted(offset));
  }

  private Offsets(double[] offset, double[] sorted) {
    this.offset = offset;
    this.sorted = sorted;
    double sum = 0;
    for (double n : offset) sum += n;
    mean = sum / offset.length;
    sigma = Order.robustSigmaOfSorted(sorted);
    variogram = offset.length >= FEWEST ? Optional.of(new Variogram(offset)) : Optional.empty();
    fit = variogram.map(Variogram::fit).orElse(new Variogram.Fit(0, 0, 1, 0));
  }

  /** The offsets of several ways, one behind the other. */
  public static Offsets of(List<Offsets> parts) {
    return new Offsets(
        parts.stream().flatMapToDouble(p -> Arrays.stream(p.offset)).toArray(),
        parts.stream().map(p -> p.sorted).reduce(Order::merged).orElseThrow());
  }

  public double sigmaM() {
    return sigma;
  }

  /** Square of the error of a step over {@code thin} intervals per axis, by the fitted noise. */
  double stepVariance(int thin) {
    return fit.stepVariance(thin);
  }

  /**
   * The same without one part of the series; see {@link Variogram#BLOCKS}. May be below 0: it is to
   * show the scatter.
   */
  double[] stepVariancesWithout(int thin) {
    double[] out = new double[Variogram.BLOCKS];
    for (int b = 0; b < out.length; b++)
      out[b] = variogram.orElseThrow().unboundedWithout(b).stepVariance(thin);
    return out;
  }

  /** Whether the noise is as strong in one part of the pass as in another. */
  Evenness evenness() {
    return variogram.orElseThrow().evenness(fit);
  }

  /** True where there are enough fixes to tell. */
  public boolean known() {
    return variogram.isPresent();
  }

  public OffsetStatistics statistics(double intervalS) {
    double squares = 0;
    for (double o : offset) squares += o * o;
    double[] size = Order.sizes(sorted, 0);
    boolean timed = known() && intervalS > 0 && lastingShare() > LEAST;
    double rms = Math.sqrt(squares / size.length);
    return new OffsetStatistics(
        mean,
        sigma,
        rms,
        Order.quantile(size, 0.5),
        Order.quantile(size, 0.95),
        size[size.length - 1],
        timed ? OptionalDouble.of(fit.lastsIntervals() * intervalS) : OptionalDouble.empty(),
        known() ? Optional.of(uncertainty(rms, size, timed ? intervalS : 0)) : Optional.empty());
  }

  private double lastingShare() {
    double all = fit.fresh() + fit.lasting();
    return all > 0 ? fit.lasting() / all : 0;
  }

  /** From the fitted noise, and for the correlation time from leaving out parts of the pass. */
  private OffsetStatistics.Uncertainty uncertainty(double rms, double[] size, double intervalS) {
    int n = offset.length;
    double t = fit.lastsIntervals();
    // The variance of a mean of a first-order Gauss-Markov process is its own times 2 T / n; of its
    // mean square, whose correlation lasts half as long, 2 times its square times T / n.
    double meanVariance = Math.max((fit.fresh() + fit.lasting() * 2 * t) / n, byParts());
    double share = lastingShare();
    double relative = (1 + share * share * t) / (2 * n);
    double robust = (1 / MAD_EFFICIENCY + share * share * t) / (2 * n);
    OptionalDouble low = OptionalDouble.empty();
    OptionalDouble high = OptionalDouble.empty();
    if (intervalS > 0) {
      double[] logs = new double[Variogram.BLOCKS];
      for (int b = 0; b < logs.length; b++)
        logs[b] = Math.log(variogram.orElseThrow().fitWithout(b).lastsIntervals());
      double factor = Math.exp(T_BLOCKS * jackknife(logs));
      low = OptionalDouble.of(t / factor * intervalS);
      high = OptionalDouble.of(t * factor * intervalS);
    }
    return new OffsetStatistics.Uncertainty(
        T_BLOCKS * Math.sqrt(meanVariance),
        T_BLOCKS * sigma * Math.sqrt(robust),
        T_BLOCKS * rms * Math.sqrt(relative),
        Optional.of(Bracket.of(size, 0.5, independentSizes(), T_BLOCKS)),
        Optional.of(Bracket.of(size, 0.95, independentSizes(), T_BLOCKS)),
        low,
        high);
  }

  /**
   * How many independent ones the sizes of the offsets are worth. Sizes about 0 know no sign, and
   * are correlated by the square of the offsets' correlation; those of a shifted track by itself.
   */
  private double independentSizes() {
    double share = lastingShare();
    double t = fit.lastsIntervals();
    double shifted = mean * mean / Math.max(mean * mean + sigma * sigma, Double.MIN_NORMAL);
    return offset.length / (1 + t * share * (share * (1 - shifted) + 2 * shifted));
  }

  /** Variance of the mean from the means of as many parts as the noise is fitted to. */
  private double byParts() {
    int n = offset.length;
    double sum = 0;
    for (int b = 0; b < Variogram.BLOCKS; b++) {
      int from = (int) ((long) n * b / Variogram.BLOCKS);
      int to = (int) ((long) n * (b + 1) / Variogram.BLOCKS);
      double part = 0;
      for (int i = from; i < to; i++) part += offset[i];
      sum += Math.pow(part / (to - from) - mean, 2);
    }
    return sum / (Variogram.BLOCKS - 1) / Variogram.BLOCKS;
  }

  /**
   * Standard error from values that each leave out one of as many parts: Efron and Tibshirani
   * (1993), An introduction to the bootstrap, chapter 11 (from memory).
   */
  static double jackknife(double[] without) {
    double mean = Arrays.stream(without).average().orElseThrow();
    double sum = 0;
    for (double v : without) sum += (v - mean) * (v - mean);
    return Math.sqrt(sum * (without.length - 1) / without.length);
  }
}
