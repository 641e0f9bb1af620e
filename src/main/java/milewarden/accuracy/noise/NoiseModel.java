package milewarden.accuracy.noise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** What the noise of the offsets says about the wander of the track. */
public final class NoiseModel {
  private static final int[] THINNINGS = {1, 2, 4};
  // Sums over a pass scatter; sigma and the fitted decay are known to a quarter at best.
  private static final double AGREES = 0.35;
  // Short noise leaves its first steps to guess: its own interval counts, up to this share.
  private static final double UNSURE = 0.6;
  // Below this share of the way nothing is there to be explained.
  private static final double NOTHING = 0.001;
  private static final int FEWEST_STEPS = 30;

  private final MatchedPoints pass;
  private final Offsets offsets;

  public NoiseModel(MatchedPoints pass, Offsets offsets) {
    this.pass = pass;
    this.offsets = offsets;
  }

  /**
   * The sum over the steps of the Rice mean excess, s^2 = 2 sigma^2 (1 - rho) of the fitted noise,
   * with the smoothed advance as the true step; metres.
   *
   * @param thin every how many-th fix is taken
   */
  public double predictedM(int thin) {
    return sum(Math.sqrt(offsets.stepVariance(thin)), thin);
  }

  /** The same for a given error of a step, per axis. */
  public double sum(double sM, int thin) {
    double sum = 0;
    for (int j = 0; j + thin < pass.size(); j += thin) {
      if (pass.breaks(j, j + thin)) continue;
      sum += Rice.quickM(Math.abs(pass.placeM()[j + thin] - pass.placeM()[j]), sM);
    }
    return sum;
  }

  /** Weave + backtrack of every {@code thin}-th fix, part by part of the pass. */
  private double[] observedM(int thin) {
    double[] sums = new double[Variogram.BLOCKS];
    int n = pass.size();
    for (int j = 0; j + thin < n; j += thin) {
      if (pass.breaks(j, j + thin)) continue;
      double ds = pass.alongM()[j + thin] - pass.alongM()[j];
      double dn = pass.offsetM()[j + thin] - pass.offsetM()[j];
      sums[(int) ((long) Variogram.BLOCKS * j / n)] += Math.sqrt(ds * ds + dn * dn) - ds;
    }
    return sums;
  }

  public NoiseCheck check() {
    if (!offsets.known() || pass.size() <= FEWEST_STEPS * 4) return NoiseCheck.NONE;
    double way = Math.abs(pass.alongM()[pass.size() - 1] - pass.alongM()[0]);
    List<Double> observed = new ArrayList<>();
    List<Double> predicted = new ArrayList<>();
    List<Double> uncertainty = new ArrayList<>();
    Evenness evenness = offsets.evenness();
    boolean plain = evenness.even();
    for (int thin : THINNINGS) {
      double[] parts = observedM(thin);
      double o = Arrays.stream(parts).sum();
      double p = predictedM(thin);
      observed.add(o);
      predicted.add(p);
      double u = uncertainty(thin, parts, o, p);
      uncertainty.add(u);
      plain &= Math.abs(o - p) <= Math.max(AGREES * p + NOTHING * way, Math.min(u, UNSURE * p));
    }
    return new NoiseCheck(observed, predicted, uncertainty, Optional.of(evenness), plain);
  }

  /** Of observed less predicted, by leaving out each part of the pass in turn. */
  private double uncertainty(int thin, double[] parts, double observed, double predicted) {
    double s2 = offsets.stepVariance(thin);
    if (!(s2 > 0)) return 0;
    // How the prediction grows with s^2: to the power of 1 for small errors, of a half for large.
    double power = Math.log(sum(Math.sqrt(1.1 * s2), thin) / predicted) / Math.log(1.1);
    double[] without = offsets.stepVariancesWithout(thin);
    double rest = parts.length / (parts.length - 1.0);
    for (int b = 0; b < parts.length; b++)
      without[b] = rest * (observed - parts[b]) - predicted * (1 + power * (without[b] / s2 - 1));
    return Offsets.T_BLOCKS * Offsets.jackknife(without);
  }
}
