package milewarden.accuracy.noise;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import milewarden.statistics.Autocorrelation;
import milewarden.statistics.Order;

/** Statistics of the offsets of a pass, and how long an offset lasts. */
public final class Offsets {
  // Shorter lags are the weave itself (ENGINE section 7).
  private static final int FIRST_LAG = 5;
  private static final double LAG_GROWTH = 1.2;
  private static final int LONGEST_LAG = 120;
  // Below this share of the variance a lag says nothing about the decay.
  private static final double LEAST = 0.15;
  private static final int FEWEST = 30;
  private static final double NEARLY_ALL = 0.8;

  private final double[] offset;
  private final double mean;
  private final double sigma;
  // The part of the variance that lasts, and how many intervals it lasts.
  private double lasting;
  private double lastsIntervals;
  private boolean known;

  /**
   * @param offset of the fixes, metres, at least one
   */
  public Offsets(double[] offset) {
    this.offset = offset;
    double sum = 0;
    for (double n : offset) sum += n;
    mean = sum / offset.length;
    sigma = Order.robustSigma(offset);
    if (offset.length >= FEWEST) fit();
  }

  /** The offsets of several ways, one behind the other. */
  public static Offsets of(List<Offsets> parts) {
    return new Offsets(parts.stream().flatMapToDouble(p -> Arrays.stream(p.offset)).toArray());
  }

  public double sigmaM() {
    return sigma;
  }

  /**
   * log rho = log a - lag / T by least squares, over the lags from 5 on that still say something.
   */
  private void fit() {
    Autocorrelation auto = new Autocorrelation(offset);
    if (!auto.known()) return;
    known = true;
    double chance = 2 / Math.sqrt(offset.length);
    double w = 0;
    double wx = 0;
    double wy = 0;
    double wxx = 0;
    double wxy = 0;
    int longest = Math.min(LONGEST_LAG, offset.length / 4);
    double next = FIRST_LAG;
    int lags = 0;
    for (int lag = FIRST_LAG; lag <= longest; ) {
      // Made good for the products that a lag leaves out: the decay is not drawn towards 0.
      double rho = auto.at(lag) * offset.length / (offset.length - lag);
      if (!(rho > Math.max(LEAST, chance))) break;
      // The scatter of log rho grows as 1 / rho.
      double weight = rho * rho;
      double y = Math.log(rho);
      w += weight;
      wx += weight * lag;
      wy += weight * y;
      wxx += weight * lag * lag;
      wxy += weight * lag * y;
      lags++;
      while ((int) next <= lag) next *= LAG_GROWTH;
      lag = (int) next;
    }
    if (lags == 0) return;
    double spread = w * wxx - wx * wx;
    double slope = lags > 1 && spread > 0 ? (w * wxy - wx * wy) / spread : wy / wx;
    double a = lags > 1 ? Math.exp((wy - slope * wx) / w) : 1;
    if (a > NEARLY_ALL) {
      // Lags from 5 on can't tell a small fresh part from none; taken at its word it would be most
      // of what a step of a lasting error adds.
      a = 1;
      slope = wxy / wxx;
    }
    lasting = a;
    lastsIntervals = slope < 0 ? -1 / slope : Double.POSITIVE_INFINITY;
  }

  /** Autocorrelation from one fix to the next at every {@code thin}-th fix, by the fitted decay. */
  public double rho(int thin) {
    return lasting == 0 ? 0 : lasting * Math.exp(-thin / lastsIntervals);
  }

  public boolean known() {
    return known;
  }

  public OffsetStatistics statistics(double intervalS) {
    double squares = 0;
    double[] size = new double[offset.length];
    for (int i = 0; i < size.length; i++) {
      squares += offset[i] * offset[i];
      size[i] = Math.abs(offset[i]);
    }
    Arrays.sort(size);
    boolean timed = known && intervalS > 0 && !Double.isInfinite(lastsIntervals);
    return new OffsetStatistics(
        mean,
        sigma,
        Math.sqrt(squares / size.length),
        Order.quantile(size, 0.5),
        Order.quantile(size, 0.95),
        size[size.length - 1],
        timed ? OptionalDouble.of(lastsIntervals * intervalS) : OptionalDouble.empty());
  }
}
