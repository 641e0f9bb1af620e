package milewarden.accuracy.fingerprint;

import java.util.Arrays;
import java.util.Optional;

/**
 * The time of a filter, seconds, whose effect explains a series best, and its 95 % interval by the
 * ratio of likelihoods. Below 0 there is no filter: an interval by likelihood under a bound holds
 * the truth no more seldom.
 *
 * @param valueS 0 or more
 * @param lowS 0 where none explains as much
 * @param highS infinite where the longest asked about is not excluded
 * @param there whether a filter explains the series so much better than none that the best of
 *     several times would by chance in fewer than one of forty
 * @see "Wilks (1938), Annals of Mathematical Statistics 9, 60-62; from memory"
 */
record FilterTime(double valueS, double lowS, double highS, boolean there) {
  // Times asked about; in between, sums of products are interpolated by third powers.
  private static final double[] ASKED_S = {0.5, 0.8, 1.2, 1.8, 2.7, 4, 6, 9, 13, 18};
  private static final int PER_ASKED = 40;
  private static final double[] TIMES_S = new double[PER_ASKED * ASKED_S.length + 1];

  static {
    for (int j = 0; j < TIMES_S.length; j++) TIMES_S[j] = timeS(j);
  }

  private static final int FEWEST_ASKED = 4;
  // A time that explains so much worse than another, in units of the interval's end, is the last.
  private static final double HOPELESS = 4;
  // Square of the normal's 97.5 % point: 95 % of chi-square with 1 degree of freedom.
  private static final double CHI_SQUARE = 3.841;
  // 99 % of the same, of which one side counts: 0.5 % for one time, and the times asked about are
  // worth some five that know nothing of each other. Davies (1977), Biometrika 64, 247-254, for the
  // problem; the five from simulated tracks.
  private static final double THERE = 6.635;
  // Speed and heading are taken where the device is, not where the walker is, and the filter need
  // not be of this order: 4 % of the time, seen on simulated tracks with little noise; and more by
  // the square of what the walker turns in that time, where the track cuts across whole bends.
  private static final double MODEL = 0.04;

  /**
   * Asks for the effects of filters of one time after the other, until longer ones can't be better.
   *
   * <p>Errors along the line move fixes in a bend: fresh ones outwards by their variance over twice
   * the radius, lasting ones and a shift of the map inwards by as much. Between these it lies.
   */
  static final class Search {
    private final Whitened seen;
    private final Whitened outward;
    private final double varianceM2;
    private final double turnPerS;
    private final double[] withSeen = new double[ASKED_S.length];
    private final double[] withOutward = new double[ASKED_S.length];
    private final double[] size = new double[ASKED_S.length];
    private double best;
    private double variance;
    private int asked;
    private boolean hopeless;
    private boolean nothing;

    /**
     * @param seen the offsets
     * @param outward the effect of errors along the line, for a variance of 1
     * @param varianceM2 of those errors
     * @param turnPerS by how much the walker turns in a second in the bends, radians
     */
    Search(Whitened seen, Whitened outward, double varianceM2, double turnPerS) {
      this.seen = seen;
      this.outward = outward;
      this.varianceM2 = varianceM2;
      this.turnPerS = turnPerS;
    }

    /** Whether an effect is still wanted, that of {@link #timeS}. */
    boolean asks() {
      return !nothing && asked < ASKED_S.length && (asked < FEWEST_ASKED || !hopeless);
    }

    double timeS() {
      return ASKED_S[asked];
    }

    /**
     * @param effect of a filter with the time asked for, in the place of the series
     */
    void hear(double[] effect) {
      double square = ASKED_S[asked] * ASKED_S[asked];
      Whitened.Own own = seen.own(effect);
      // Of the effect over the square of the time, which changes little from time to time.
      double all = own.square / (square * square);
      if (!(all > 0)) {
        nothing = true;
        return;
      }
      double with = own.with(seen) / square;
      size[asked] = all;
      withSeen[asked] = with;
      withOutward[asked] = own.with(outward) / square * varianceM2;
      double coefficient = Math.max(0, with / all);
      if (asked == 0 || coefficient * with > best) {
        best = coefficient * with;
        variance = own.variance(coefficient / square);
      }
      double most = with + Math.abs(withOutward[asked]);
      double misfit = square * (square * all - 2 * most);
      // Too long, and not too short: longer ones are no better.
      hopeless = most < square * all && misfit + best > HOPELESS * CHI_SQUARE * variance;
      asked++;
    }

    /** Empty where the effect can't be told from a constant offset or a shift. */
    Optional<FilterTime> found() {
      if (nothing) return Optional.empty();
      return Optional.of(
          between(
              Arrays.copyOf(withSeen, asked),
              Arrays.copyOf(withOutward, asked),
              Arrays.copyOf(size, asked),
              variance,
              turnPerS));
    }
  }

  private static FilterTime between(
      double[] withSeen, double[] withOutward, double[] size, double variance, double turnPerS) {
    int last = PER_ASKED * size.length;
    double value = 0;
    double low = Double.POSITIVE_INFINITY;
    double high = 0;
    boolean there = true;
    // As seen; with the errors along the line outwards; with them inwards.
    for (int errors : new int[] {0, 1, -1}) {
      double[] misfit = new double[last + 1];
      int least = 0;
      for (int j = 1; j <= last; j++) {
        double square = TIMES_S[j] * TIMES_S[j];
        double with = at(withSeen, j) + errors * at(withOutward, j);
        misfit[j] = square * (square * at(size, j) - 2 * with);
        if (misfit[j] < misfit[least]) least = j;
      }
      there &= -misfit[least] > THERE * variance;
      if (errors == 0) value = TIMES_S[least];
      for (int j = 0; j <= last; j++) {
        if (misfit[j] > misfit[least] + CHI_SQUARE * variance) continue;
        low = Math.min(low, TIMES_S[j] * Math.max(0, 1 - model(TIMES_S[j], turnPerS)));
        double next = j == last ? Double.POSITIVE_INFINITY : TIMES_S[j + 1];
        high = Math.max(high, next * (1 + model(next, turnPerS)));
      }
    }
    return new FilterTime(value, Math.min(low, value), Math.max(high, value), there);
  }

  private static double model(double timeS, double turnPerS) {
    return MODEL * (1 + Math.pow(turnPerS * timeS, 2));
  }

  /** Evenly up to the first time asked about, and from there in even ratios. */
  private static double timeS(int j) {
    if (j <= PER_ASKED) return ASKED_S[0] * j / PER_ASKED;
    double at = j / (double) PER_ASKED - 1;
    int i = Math.min((int) at, ASKED_S.length - 2);
    return ASKED_S[i] * Math.pow(ASKED_S[i + 1] / ASKED_S[i], at - i);
  }

  /**
   * A sum of products at a time of {@link #TIMES_S}: that of the first time below it, else by four
   * around.
   */
  private static double at(double[] values, int j) {
    double at = Math.max(0, j / (double) PER_ASKED - 1);
    int from = Math.max(0, Math.min((int) at - 1, values.length - 4));
    double x = at - from;
    // Lagrange's polynomial through 0, 1, 2 and 3.
    return values[from] * (x - 1) * (x - 2) * (3 - x) / 6
        + values[from + 1] * x * (x - 2) * (x - 3) / 2
        + values[from + 2] * x * (x - 1) * (3 - x) / 2
        + values[from + 3] * x * (x - 1) * (x - 2) / 6;
  }
}
