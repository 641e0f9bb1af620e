package milewarden.simulator;

import java.util.random.RandomGenerator;

/**
 * A stationary first-order Gauss-Markov process: standard deviation sigma, autocovariance sigma^2
 * exp(-lag / T), started in its stationary distribution.
 *
 * @see "Gelb (1974), Applied Optimal Estimation, section 3.8; from memory"
 */
final class GaussMarkov {
  private final RandomGenerator random;
  private final double sigma;
  private final double timeS;
  private double value;

  GaussMarkov(RandomGenerator random, double sigma, double timeS) {
    this.random = random;
    this.sigma = sigma;
    this.timeS = timeS;
    value = sigma == 0 ? 0 : sigma * random.nextGaussian();
  }

  double value() {
    return value;
  }

  /** Goes {@code seconds} on and returns the new value. */
  double advance(double seconds) {
    if (sigma == 0) return 0;
    double r = Math.exp(-seconds / timeS);
    value = r * value + sigma * Math.sqrt(1 - r * r) * random.nextGaussian();
    return value;
  }
}
