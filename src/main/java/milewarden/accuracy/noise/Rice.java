package milewarden.accuracy.noise;

/**
 * By how much independent errors lengthen a step on average: the mean of a Rice distribution less
 * its step.
 *
 * @see "Rice (1945), Mathematical analysis of random noise, Bell System Technical Journal 24"
 */
public final class Rice {
  // Above this the asymptotic series of the scaled Bessel functions is good to the last digit: its
  // terms fall to exp(-2 x). Abramowitz and Stegun (1964), 9.7.1.
  private static final double LARGE = 20;

  // A table of the excess over s for steps up to 20 s, read by straight lines: 1e-4 of the excess.
  private static final int PER_S = 50;
  private static final int LAST = 20 * PER_S;
  private static final double[] TABLE = new double[LAST + 2];

  static {
    for (int i = 0; i < TABLE.length; i++) TABLE[i] = excessM(i / (double) PER_S, 1);
  }

  private Rice() {}

  /**
   * s sqrt(pi/2) L_1/2(-d^2 / (2 s^2)) - d, the Laguerre function by modified Bessel functions.
   *
   * @param stepM d, the true step, 0 or above
   * @param sM standard deviation of the step's error per axis, 0 or above: s^2 = 2 sigma^2 (1 -
   *     rho) for fixes with sigma per axis and autocorrelation rho from one to the next
   * @return metres, never negative
   */
  public static double excessM(double stepM, double sM) {
    if (!(sM > 0)) return 0;
    double y = stepM * stepM / (4 * sM * sM);
    double mean = sM * Math.sqrt(Math.PI / 2) * ((1 + 2 * y) * scaledI0(y) + 2 * y * scaledI1(y));
    return Math.max(0, mean - stepM);
  }

  /** The same by table, for sums over many steps. */
  public static double quickM(double stepM, double sM) {
    if (!(sM > 0)) return 0;
    double u = stepM / sM;
    double at = u * PER_S;
    // Far out the excess is s^2 / (2 d) and a little: the next term of the series.
    if (at >= LAST) return sM / (2 * u) * (1 + 1 / (4 * u * u));
    int i = (int) at;
    return sM * (TABLE[i] + (at - i) * (TABLE[i + 1] - TABLE[i]));
  }

  /** exp(-x) I_0(x). */
  static double scaledI0(double x) {
    return x < LARGE ? Math.exp(-x) * series(x, 0) : asymptotic(x, 0);
  }

  /** exp(-x) I_1(x). */
  static double scaledI1(double x) {
    return x < LARGE ? Math.exp(-x) * series(x, 1) : asymptotic(x, 1);
  }

  /** Abramowitz and Stegun 9.6.10. */
  private static double series(double x, int order) {
    double quarter = x * x / 4;
    double term = order == 0 ? 1 : x / 2;
    double sum = term;
    for (int k = 1; term > sum * 1e-17; k++) {
      term *= quarter / (k * (double) (k + order));
      sum += term;
    }
    return sum;
  }

  /** Abramowitz and Stegun 9.7.1. */
  private static double asymptotic(double x, int order) {
    double mu = 4.0 * order * order;
    double term = 1;
    double sum = 1;
    for (int k = 1; k < 40; k++) {
      double odd = 2 * k - 1;
      double next = -term * (mu - odd * odd) / (k * 8 * x);
      if (Math.abs(next) > Math.abs(term)) break;
      term = next;
      sum += term;
      if (Math.abs(term) < 1e-17) break;
    }
    return sum / Math.sqrt(2 * Math.PI * x);
  }
}
