package milewarden.accuracy.noise;

import java.util.ArrayList;
import java.util.List;

/** What the noise of the offsets says about the wander of the track. */
public final class NoiseModel {
  private static final int[] THINNINGS = {1, 2, 4};
  // Sums over a pass scatter; sigma and the fitted decay are known to a quarter at best.
  private static final double AGREES = 0.35;
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
   * The sum over the steps of the Rice mean excess, s^2 = 2 sigma^2 (1 - rho), with the smoothed
   * advance as the true step; metres.
   *
   * @param thin every how many-th fix is taken
   */
  public double predictedM(int thin) {
    double sigma = offsets.sigmaM();
    return sum(Math.sqrt(2 * (1 - offsets.rho(thin))) * sigma, thin);
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

  /** Weave + backtrack of every {@code thin}-th fix: sum of hypot(ds, dn) less the advance. */
  private double observedM(int thin) {
    double sum = 0;
    for (int j = 0; j + thin < pass.size(); j += thin) {
      if (pass.breaks(j, j + thin)) continue;
      double ds = pass.alongM()[j + thin] - pass.alongM()[j];
      double dn = pass.offsetM()[j + thin] - pass.offsetM()[j];
      sum += Math.sqrt(ds * ds + dn * dn) - ds;
    }
    return sum;
  }

  public NoiseCheck check() {
    if (!offsets.known() || pass.size() <= FEWEST_STEPS * 4) return NoiseCheck.NONE;
    double way = Math.abs(pass.alongM()[pass.size() - 1] - pass.alongM()[0]);
    List<Double> observed = new ArrayList<>();
    List<Double> predicted = new ArrayList<>();
    boolean plain = true;
    for (int thin : THINNINGS) {
      double o = observedM(thin);
      double p = predictedM(thin);
      observed.add(o);
      predicted.add(p);
      plain &= Math.abs(o - p) <= AGREES * p + NOTHING * way;
    }
    return new NoiseCheck(observed, predicted, plain);
  }
}
