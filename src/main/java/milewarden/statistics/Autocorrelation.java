package milewarden.statistics;

/**
 * How much a value of a series says about a later one: the sum of the products of deviations a lag
 * apart over the sum of their squares. The usual definition; it draws long lags of short series
 * towards 0.
 *
 * @see "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.12"
 */
public final class Autocorrelation {
  private final double[] deviation;
  private final double squares;

  /**
   * @param x in order, one or more; not changed
   */
  public Autocorrelation(double[] x) {
    double mean = Sample.of(x).mean();
    deviation = new double[x.length];
    double sum = 0;
    for (int i = 0; i < x.length; i++) {
      deviation[i] = x[i] - mean;
      sum += deviation[i] * deviation[i];
    }
    squares = sum;
  }

  /** True where the values vary at all: else there is none. */
  public boolean known() {
    return squares > 0;
  }

  /**
   * @param lag 0 or above, below the length of the series
   * @return -1 to 1; NaN where the values do not vary
   */
  public double at(int lag) {
    if (lag < 0 || lag >= deviation.length) throw new IllegalArgumentException("lag: " + lag);
    double products = 0;
    for (int i = lag; i < deviation.length; i++) products += deviation[i] * deviation[i - lag];
    return squares > 0 ? products / squares : Double.NaN;
  }
}
