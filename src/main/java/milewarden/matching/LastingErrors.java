package milewarden.matching;

/**
 * How likely a series of errors is, whatever their size and however long they last: a first-order
 * Gauss-Markov process and white noise on it, with the size integrated out (prior 1 / sigma) and
 * the mean over a grid of correlation times and shares of white noise, evenly in their logarithms.
 *
 * @see "Harvey (1989), Forecasting, Structural Time Series Models and the Kalman Filter, section
 *     3.4 (the likelihood by its innovations); Gelb (1974), Applied Optimal Estimation, section
 *     3.8; from memory"
 */
final class LastingErrors {
  /** Correlation times: those of receivers are some 20 s; longer ones are a shift of the line. */
  private static final double[] TIMES_S = {7, 20, 60, 180};

  /** White variance as a part of the lasting one. */
  private static final double[] WHITE = {0, 0.03, 0.3, 3, 30};

  private LastingErrors() {}

  /**
   * Up to a constant that depends on the number alone.
   *
   * @param errors metres
   * @param seconds of each, rising
   */
  static double logLikelihood(double[] errors, double[] seconds, int n) {
    double[] all = new double[TIMES_S.length * WHITE.length];
    int at = 0;
    for (double time : TIMES_S)
      for (double white : WHITE) all[at++] = logLikelihood(errors, seconds, n, time, white);
    return logMean(all, 0, at);
  }

  /** The logarithm of the mean of what has these logarithms. */
  static double logMean(double[] logs, int from, int to) {
    double most = Double.NEGATIVE_INFINITY;
    for (int i = from; i < to; i++) most = Math.max(most, logs[i]);
    double sum = 0;
    for (int i = from; i < to; i++) sum += Math.exp(logs[i] - most);
    return most + Math.log(sum / (to - from));
  }

  private static double logLikelihood(
      double[] errors, double[] seconds, int n, double timeS, double white) {
    double mean = 0;
    double variance = 1;
    double squares = 0;
    double logs = 0;
    for (int i = 0; i < n; i++) {
      if (i > 0) {
        double a = Math.exp((seconds[i - 1] - seconds[i]) / timeS);
        mean *= a;
        variance = a * a * variance + 1 - a * a;
      }
      double f = variance + white;
      double v = errors[i] - mean;
      squares += v * v / f;
      logs += Math.log(f);
      mean += variance / f * v;
      variance -= variance * variance / f;
    }
    return -(logs + n * Math.log(squares)) / 2;
  }
}
