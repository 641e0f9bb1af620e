package milewarden.accuracy.noise;

import java.util.OptionalDouble;
import milewarden.geodesy.Radii;
import milewarden.track.Track;

/** The grid on which coarsely written positions lie. */
public final class PositionGrid {
  private static final int FEWEST_DECIMALS = 2;
  private static final int MOST_DECIMALS = 6;
  // Fewer positions lie on a coarse grid by chance.
  private static final int FEWEST_FIXES = 10;
  // A double near 180 holds 1e-14; times 1e6 that is far below this.
  private static final double ROUNDING = 1e-6;

  private PositionGrid() {}

  /** The coarsest decimal step, 1e-2 to 1e-6 degrees, on which all positions lie; else empty. */
  public static OptionalDouble stepDeg(Track track) {
    if (track.size() < FEWEST_FIXES) return OptionalDouble.empty();
    double perDegree = 1;
    for (int d = 1; d < FEWEST_DECIMALS; d++) perDegree *= 10;
    int decimals = FEWEST_DECIMALS;
    perDegree *= 10;
    for (int i = 0; i < track.size(); i++) {
      while (off(track.latitudesDeg()[i] * perDegree)
          || off(track.longitudesDeg()[i] * perDegree)) {
        decimals++;
        perDegree *= 10;
        if (decimals > MOST_DECIMALS) return OptionalDouble.empty();
      }
    }
    return OptionalDouble.of(1 / perDegree);
  }

  private static boolean off(double value) {
    return Math.abs(value - Math.rint(value)) > ROUNDING;
  }

  /**
   * Standard deviation per axis of a step's error from rounding to the grid: each position's is
   * uniform over the step, q^2 / 12 (JCGM 100:2008, 4.3.7); a step has two; the mean of both axes.
   */
  public static double stepSigmaM(double stepDeg, double latitudeDeg) {
    double north = Math.toRadians(stepDeg) * Radii.meridianM(latitudeDeg);
    double east =
        Math.toRadians(stepDeg)
            * Radii.primeVerticalM(latitudeDeg)
            * Math.cos(Math.toRadians(latitudeDeg));
    return Math.sqrt((north * north + east * east) / 12);
  }
}
