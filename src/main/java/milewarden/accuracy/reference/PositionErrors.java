package milewarden.accuracy.reference;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.statistics.Sample;

/**
 * Statistics of the errors of positions against a reference track, in metres. Percentiles are those
 * of the errors themselves, linear between order statistics (Hyndman and Fan type 7); the NSSDA
 * statistics take the errors as normal.
 *
 * @param epochs fixes that were compared, 1 or more
 * @param meanEastM a constant shift: a datum, an antenna, a clock
 * @param meanNorthM likewise
 * @param rmseEastM root of the mean square error to the east
 * @param rmseNorthM to the north
 * @param rmseM radial: root of the sum of both squares
 * @param cep50M radius within which half of the errors lie
 * @param r95M radius within which 95 % of them lie
 * @param largestM the largest error
 * @see "FGDC-STD-007.3-1998, Geospatial Positioning Accuracy Standards, part 3: NSSDA, appendix
 *     3-A"
 */
public record PositionErrors(
    int epochs,
    double meanEastM,
    double meanNorthM,
    double rmseEastM,
    double rmseNorthM,
    double rmseM,
    double cep50M,
    double r95M,
    double largestM) {
  // FGDC-STD-007.3-1998, 3.2.2: twenty check points at least.
  private static final int FEWEST_EPOCHS = 20;
  // Appendix 3-A: sqrt(-2 ln 0.05) per axis, and the same over sqrt 2 of the radial error.
  private static final double PER_AXIS = 2.4477;
  private static final double RADIAL = 1.7308;
  // Appendix 3-A: the mean of the axes stands for both down to this ratio of the smaller one.
  private static final double LEAST_RATIO = 0.6;

  /**
   * Of errors that are finite.
   *
   * @param errors one or more
   */
  public static PositionErrors of(List<Epoch> errors) {
    if (errors.isEmpty()) throw new IllegalArgumentException("no epochs");
    int n = errors.size();
    double east = 0;
    double north = 0;
    double east2 = 0;
    double north2 = 0;
    double[] size = new double[n];
    for (int i = 0; i < n; i++) {
      Epoch e = errors.get(i);
      east += e.eastM();
      north += e.northM();
      east2 += e.eastM() * e.eastM();
      north2 += e.northM() * e.northM();
      size[i] = e.horizontalM();
    }
    return new PositionErrors(
        n,
        east / n,
        north / n,
        Math.sqrt(east2 / n),
        Math.sqrt(north2 / n),
        Math.sqrt((east2 + north2) / n),
        Sample.quantile(size, 0.5),
        Sample.quantile(size, 0.95),
        Sample.quantile(size, 1));
  }

  /** NSSDA accuracy at 95 % where the error is the same in both axes: 1.7308 RMSE. */
  public double nssdaAlikeM() {
    return RADIAL * rmseM;
  }

  /** NSSDA accuracy at 95 % where the axes differ: 2.4477 times the mean of their RMSE. */
  public double nssdaUnlikeM() {
    return PER_AXIS * (rmseEastM + rmseNorthM) / 2;
  }

  /**
   * The NSSDA accuracy at 95 % that the standard lets stand: the formula of unlike axes down to a
   * ratio of 0.6 of the smaller to the larger (alike, both formulae say the same); below it neither
   * holds, and {@link #r95M()} is what is known.
   */
  public OptionalDouble nssda95M() {
    double larger = Math.max(rmseEastM, rmseNorthM);
    double smaller = Math.min(rmseEastM, rmseNorthM);
    return smaller >= LEAST_RATIO * larger
        ? OptionalDouble.of(nssdaUnlikeM())
        : OptionalDouble.empty();
  }

  /** True below the twenty check points that the standard asks for: its figures are indicative. */
  public boolean indicative() {
    return epochs < FEWEST_EPOCHS;
  }
}
