package milewarden.accuracy.noise;

/**
 * Are the errors as large in one part of a pass as in another? Asked of differences over {@value
 * Variogram#FIRST_LAG} fixes, part by part.
 *
 * @param ratio of the strongest part's standard deviation to the weakest's, 1 or more
 * @param even false where the parts differ by more than chance and by more than matters
 */
public record Evenness(double ratio, boolean even) {
  // 99.9 % of chi-square with 9 degrees of freedom, one fewer than parts: NIST/SEMATECH e-Handbook
  // of Statistical Methods, 1.3.6.7.4.
  private static final double CHI_SQUARE = 27.877;
  // Errors half as large again in places hardly change what the whole predicts. Common practice, no
  // source.
  private static final double MATTERS = 1.5;
  // Relative variance of the root of a standard normal's size: its mean square is the mean size
  // sqrt(2 / pi), its mean 2^(1/4) Gamma(3/4) / sqrt(pi).
  private static final double ROOT_VARIANCE = Math.sqrt(2 / Math.PI) / Math.sqrt(0.45694658) - 1;

  public Evenness {
    if (!(ratio >= 1)) throw new IllegalArgumentException("ratio: " + ratio);
  }

  /**
   * Cochran's test of one mean for all parts, on the logarithms of the mean roots.
   *
   * @param meanRoot mean root of the size of the differences, by part
   * @param independent how many independent differences each part is worth
   * @see "Cochran (1954), The combination of estimates from different experiments, Biometrics 10,
   *     101-129; from memory"
   */
  static Evenness of(double[] meanRoot, double[] independent) {
    double weights = 0;
    double sum = 0;
    double low = Double.POSITIVE_INFINITY;
    double high = 0;
    for (int b = 0; b < meanRoot.length; b++) {
      // A part without a difference, or of one place alone, says nothing of its own.
      if (!(independent[b] > 0) || !(meanRoot[b] > 0)) continue;
      weights += independent[b];
      sum += independent[b] * Math.log(meanRoot[b]);
      low = Math.min(low, meanRoot[b]);
      high = Math.max(high, meanRoot[b]);
    }
    if (!(weights > 0)) return new Evenness(1, true);
    double q = 0;
    for (int b = 0; b < meanRoot.length; b++)
      if (independent[b] > 0 && meanRoot[b] > 0)
        q += independent[b] * Math.pow(Math.log(meanRoot[b]) - sum / weights, 2) / ROOT_VARIANCE;
    double ratio = (high / low) * (high / low);
    return new Evenness(ratio, q <= CHI_SQUARE || ratio <= MATTERS);
  }
}
