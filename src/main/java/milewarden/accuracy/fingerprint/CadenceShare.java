package milewarden.accuracy.fingerprint;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import milewarden.statistics.Order;

/**
 * Which share of a distance follows the cadence rather than the way.
 *
 * <p>Over windows of some seconds let x be the strides, d what was counted and a what was gone,
 * each as a part of its mean. The slope of d on x is 1 where steps are counted, and that of a on x
 * where the way is; in between the share is (A - D) / (A - 1), D and A the two slopes. Regressing
 * on x, which is counted and not measured by positions, keeps their noise from bending the slopes.
 *
 * <p>A is known to begin with: walkers and runners keep the ratio of step length to cadence, so
 * that the way grows with the square of the cadence (Sekiya and Nagasaki 1998, Gait and Posture 7,
 * 225-227; from memory). What the pass itself says of A is weighed with that.
 */
final class CadenceShare {
  private static final double WINDOW_S = 15;
  private static final int FEWEST = 12;
  // No source: how far one person's slope may be from 2, and what rounding leaves of a slope.
  private static final double USUAL_SLOPE = 2;
  private static final double USUAL_SLOPE_SD = 0.35;
  private static final double LEAST_SD = 0.03;
  // A cadence that hardly changes tells nothing.
  private static final double LEAST_VARIATION = 0.004;
  // No source: of the median cadence; a slower one is starting or stopping.
  private static final double STEADY = 0.8;
  private static final double LEAST_MPS = 0.5;
  private static final double Z95 = 1.959963984540054;

  private CadenceShare() {}

  /** The share from 0 to 1 with its 95 % interval. */
  record Share(double share, double low, double high, int windows) {}

  private record Window(double strides, double countedM, double wayM) {}

  static Optional<Share> of(CountedDistance counted) {
    List<Window> windows = windows(counted);
    if (windows.size() < FEWEST) return Optional.empty();
    double[] x = parts(windows.stream().mapToDouble(Window::strides).toArray());
    double[] d = parts(windows.stream().mapToDouble(Window::countedM).toArray());
    double[] a = parts(windows.stream().mapToDouble(Window::wayM).toArray());
    double spread = 0;
    for (double v : x) spread += (v - 1) * (v - 1);
    if (Math.sqrt(spread / x.length) < LEAST_VARIATION) return Optional.empty();
    double slopeD = slope(x, d, spread);
    double sdD = Math.hypot(LEAST_SD, sd(x, d, slopeD, spread));
    double slopeA = slope(x, a, spread);
    double sdA = sd(x, a, slopeA, spread);
    double own = 1 / (sdA * sdA);
    double usual = 1 / (USUAL_SLOPE_SD * USUAL_SLOPE_SD);
    double way = (own * slopeA + usual * USUAL_SLOPE) / (own + usual);
    double sdWay = 1 / Math.sqrt(own + usual);
    if (way - 1 < 0.3) return Optional.empty();
    double share = (way - slopeD) / (way - 1);
    double u = Math.hypot(sdD / (way - 1), (slopeD - 1) / Math.pow(way - 1, 2) * sdWay);
    return Optional.of(
        new Share(clip(share), clip(share - Z95 * u), clip(share + Z95 * u), windows.size()));
  }

  private static double clip(double share) {
    return Math.max(0, Math.min(1, share));
  }

  private static List<Window> windows(CountedDistance c) {
    List<Window> windows = new ArrayList<>();
    double least = STEADY * median(c.perMin);
    int from = 0;
    for (int j = 0; j + 1 < c.size(); j++) {
      // Starting and stopping, way and strides fall together: that says nothing of a gait.
      boolean steady = c.perMin.length > 0 && c.perMin[j] >= least && c.perMin[j + 1] >= least;
      if (c.gap[j] || c.broken[j] || !steady) {
        from = j + 1;
      } else if (c.seconds(from, j + 1) >= WINDOW_S) {
        double strides = c.strides(from, j + 1);
        double wayM = c.advanceM(from, j + 1);
        if (strides > 0 && wayM > LEAST_MPS * c.seconds(from, j + 1))
          windows.add(new Window(strides, c.countedM(from, j + 1), wayM));
        from = j + 1;
      }
    }
    return windows;
  }

  private static double median(double[] perMin) {
    double[] going = Arrays.stream(perMin).filter(v -> v > 0).sorted().toArray();
    return going.length == 0 ? 0 : Order.quantile(going, 0.5);
  }

  private static double[] parts(double[] values) {
    double mean = 0;
    for (double v : values) mean += v / values.length;
    double[] parts = new double[values.length];
    for (int i = 0; i < parts.length; i++) parts[i] = values[i] / mean;
    return parts;
  }

  private static double slope(double[] x, double[] y, double spread) {
    double sum = 0;
    for (int i = 0; i < x.length; i++) sum += (x[i] - 1) * (y[i] - 1);
    return sum / spread;
  }

  private static double sd(double[] x, double[] y, double slope, double spread) {
    double squares = 0;
    for (int i = 0; i < x.length; i++) {
      double rest = y[i] - 1 - slope * (x[i] - 1);
      squares += rest * rest;
    }
    return Math.sqrt(squares / (x.length - 2) / spread);
  }
}
