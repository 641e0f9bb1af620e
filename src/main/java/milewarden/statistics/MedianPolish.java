package milewarden.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * An additive fit of cells with two factors or more, by sweeping out medians: one wild cell moves
 * no effect. Cells may be missing.
 *
 * @param overall the common value
 * @param effects for each factor one value per level; 0 for a level without a cell
 * @param residuals of the cells in their order
 * @see "Tukey (1977), Exploratory Data Analysis, chapter 11"
 */
public record MedianPolish(double overall, List<double[]> effects, double[] residuals) {
  // Stop where the sum of absolute residuals falls by less than this share; common practice.
  private static final double ENOUGH = 0.01;
  private static final int MOST_ROUNDS = 20;

  /**
   * Sweeps factor by factor, in their order, until nothing is gained.
   *
   * @param values one per cell, finite
   * @param levels levels[f][i] is the level of factor f in cell i, from 0
   * @param sizes levels of each factor
   */
  public static MedianPolish of(double[] values, int[][] levels, int... sizes) {
    if (levels.length != sizes.length) throw new IllegalArgumentException("factors and sizes");
    double[] rest = values.clone();
    List<double[]> effects = new ArrayList<>();
    for (int size : sizes) effects.add(new double[size]);
    double overall = 0;
    double before = 0;
    for (int round = 0; round < MOST_ROUNDS; round++) {
      for (int f = 0; f < sizes.length; f++) {
        sweep(rest, levels[f], effects.get(f));
        for (int g = 0; g < sizes.length; g++)
          if (g != f) overall += centre(effects.get(g), levels[g]);
      }
      double sum = Arrays.stream(rest).map(Math::abs).sum();
      if (sum == 0 || Math.abs(sum - before) < ENOUGH * sum) break;
      before = sum;
    }
    return new MedianPolish(overall, List.copyOf(effects), rest);
  }

  private static void sweep(double[] rest, int[] level, double[] effects) {
    double[] medians = new double[effects.length];
    int[] ends = new int[effects.length];
    double[] grouped = grouped(rest, level, ends);
    int start = 0;
    for (int k = 0; k < effects.length; k++) {
      if (ends[k] > start) medians[k] = Sample.median(Arrays.copyOfRange(grouped, start, ends[k]));
      effects[k] += medians[k];
      start = ends[k];
    }
    for (int i = 0; i < rest.length; i++) rest[i] -= medians[level[i]];
  }

  /**
   * The values in the order of their levels: a sort by counting, for there are thousands of both.
   *
   * @param ends is filled with where each level ends
   */
  private static double[] grouped(double[] rest, int[] level, int[] ends) {
    for (int k : level) ends[k]++;
    for (int k = 1; k < ends.length; k++) ends[k] += ends[k - 1];
    double[] grouped = new double[rest.length];
    int[] next = new int[ends.length];
    for (int k = 1; k < ends.length; k++) next[k] = ends[k - 1];
    for (int i = 0; i < rest.length; i++) grouped[next[level[i]]++] = rest[i];
    return grouped;
  }

  /** Takes the median of the levels that have a cell out of the effects, and gives it. */
  private static double centre(double[] effects, int[] level) {
    boolean[] has = new boolean[effects.length];
    for (int k : level) has[k] = true;
    double[] held = new double[effects.length];
    int n = 0;
    for (int k = 0; k < effects.length; k++) if (has[k]) held[n++] = effects[k];
    if (n == 0) return 0;
    double median = Sample.median(Arrays.copyOf(held, n));
    for (int k = 0; k < effects.length; k++) if (has[k]) effects[k] -= median;
    return median;
  }

  /**
   * The residuals' spread as a normal standard deviation: 1.4826 times their median absolute value.
   *
   * @see "Hampel (1974), J. American Statistical Association 69, 383-393"
   */
  public double residualSpread() {
    return 1.4826 * Sample.median(Arrays.stream(residuals).map(Math::abs).toArray());
  }
}
