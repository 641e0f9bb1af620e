package milewarden.simulator;

/**
 * A first-order low-pass filter, T dy/dt + y = x, exact for an input that is straight between its
 * samples (first-order hold): y' = a y + (1 - a) x + (1 - (1 - a) T / h) (x' - x), a = exp(-h / T).
 * DERIVED by solving the equation over one step.
 */
final class Smoothing {
  private final double lagS;
  private final double keep;
  private final double ramp;
  private boolean begun;
  private double x0;
  private double x1;
  private double y0;
  private double y1;

  /**
   * @param lagS T in seconds; 0 hands the input through
   * @param stepS h, seconds between samples
   */
  Smoothing(double lagS, double stepS) {
    this.lagS = lagS;
    keep = lagS == 0 ? 0 : Math.exp(-stepS / lagS);
    ramp = lagS == 0 ? 1 : 1 - (1 - keep) * lagS / stepS;
  }

  boolean active() {
    return lagS > 0;
  }

  /** The next sample of both coordinates; begins settled on the first. */
  void push(double a, double b) {
    if (!begun || lagS == 0) {
      begun = true;
      y0 = a;
      y1 = b;
    } else {
      y0 = keep * y0 + (1 - keep) * x0 + ramp * (a - x0);
      y1 = keep * y1 + (1 - keep) * x1 + ramp * (b - x1);
    }
    x0 = a;
    x1 = b;
  }

  double first() {
    return y0;
  }

  double second() {
    return y1;
  }
}
