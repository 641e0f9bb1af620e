package milewarden.accuracy.noise;

import java.util.OptionalDouble;
import milewarden.geodesy.Radii;
import milewarden.track.Track;

/** The grid on which coarsely written positions lie: decimals of degrees or of minutes. */
public final class PositionGrid {
  private static final int FEWEST_DECIMALS = 2;
  private static final int MOST_DECIMALS = 6;
  // 1e-4 minutes are 0.19 m; finer steps lengthen no track by a tenth of a percent.
  private static final int MINUTE_DECIMALS = 4;
  // Fewer positions lie on a coarse grid by chance.
  private static final int FEWEST_FIXES = 10;
  // A double near 180 holds 1e-14; times 1e6 that is far below this.
  private static final double ROUNDING = 1e-6;

  private PositionGrid() {}

  /**
   * The coarsest step on which all positions lie: 1e-2 to 1e-6 degrees, or 1e-2 to 1e-4 minutes
   * where they lie on no such decimals of a degree; else empty.
   */
  public static OptionalDouble stepDeg(Track track) {
    if (places(track) < FEWEST_FIXES) return OptionalDouble.empty();
    OptionalDouble degrees = coarsest(track, 1, FEWEST_DECIMALS, MOST_DECIMALS);
    return degrees.isPresent() ? degrees : coarsest(track, 60, FEWEST_DECIMALS, MINUTE_DECIMALS);
  }

  /** Places, up to as many as are asked for: who stands has one, however often it is written. */
  private static int places(Track track) {
    int places = 1;
    for (int i = 1; i < track.size() && places < FEWEST_FIXES; i++)
      if (track.latitudesDeg()[i] != track.latitudesDeg()[i - 1]
          || track.longitudesDeg()[i] != track.longitudesDeg()[i - 1]) places++;
    return places;
  }

  private static OptionalDouble coarsest(Track track, double per, int decimals, int most) {
    double perDegree = per;
    for (int d = 0; d < decimals; d++) perDegree *= 10;
    for (int i = 0; i < track.size(); i++) {
      while (off(track.latitudesDeg()[i] * perDegree)
          || off(track.longitudesDeg()[i] * perDegree)) {
        decimals++;
        perDegree *= 10;
        if (decimals > most) return OptionalDouble.empty();
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
