package milewarden.statistics;

/**
 * Test of equal spread in two groups: the F test on absolute deviations from the medians.
 *
 * @see "Brown and Forsythe (1974), J. American Statistical Association 69, 364-367"
 */
public record BrownForsythe(double f, double p) {
  /** Each group of 2 values or more, 5 or more together. */
  public static BrownForsythe of(double[] a, double[] b) {
    Sample za = deviations(a);
    Sample zb = deviations(b);
    int n = za.n() + zb.n();
    double grand = (za.n() * za.mean() + zb.n() * zb.mean()) / n;
    double between = za.n() * square(za.mean() - grand) + zb.n() * square(zb.mean() - grand);
    double within = (za.sumOfSquares() + zb.sumOfSquares()) / (n - 2);
    if (within == 0) return new BrownForsythe(between == 0 ? 0 : 1e300, between == 0 ? 1 : 0);
    double f = between / within;
    return new BrownForsythe(f, Distributions.fSurvival(f, 1, n - 2.0));
  }

  private static Sample deviations(double[] x) {
    double median = Sample.median(x);
    double[] z = new double[x.length];
    for (int i = 0; i < z.length; i++) z[i] = Math.abs(x[i] - median);
    return Sample.of(z);
  }

  private static double square(double x) {
    return x * x;
  }
}
