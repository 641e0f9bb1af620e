package milewarden.statistics;

import java.util.Collection;

/**
 * Repeatability and reproducibility of groups of replicates, as many in each as there were.
 *
 * @param withinVariance s_r squared
 * @param betweenVariance s_L squared, never negative
 * @see "ISO 5725-2:1994, 7.4.5; for limits of agreement with repeated readings the same: Bland and
 *     Altman (2007), J. Biopharm. Stat. 17, 571-582, section 3"
 */
public record Precision(double withinVariance, double betweenVariance) {
  /** From two groups or more, of which one or more holds a replicate. */
  public static Precision of(Collection<double[]> groups) {
    int p = groups.size();
    double total = 0;
    double sum = 0;
    double squaredSizes = 0;
    double within = 0;
    for (double[] g : groups) {
      Sample s = Sample.of(g);
      total += s.n();
      sum += s.n() * s.mean();
      squaredSizes += 1.0 * s.n() * s.n();
      within += s.sumOfSquares();
    }
    if (p < 2 || total <= p) throw new IllegalArgumentException(p + " groups of " + total);
    double mean = sum / total;
    double between = 0;
    for (double[] g : groups) {
      Sample s = Sample.of(g);
      between += s.n() * (s.mean() - mean) * (s.mean() - mean);
    }
    double withinVariance = within / (total - p);
    double size = (total - squaredSizes / total) / (p - 1);
    double component = (between / (p - 1) - withinVariance) / size;
    return new Precision(withinVariance, Math.max(0, component));
  }

  /** s_R squared: one replicate of any group. */
  public double reproducibilityVariance() {
    return withinVariance + betweenVariance;
  }
}
