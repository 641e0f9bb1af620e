package milewarden.accuracy.fingerprint;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.accuracy.fingerprint.Fingerprint.Kind;
import milewarden.accuracy.fingerprint.Fingerprint.Presence;
import milewarden.accuracy.noise.OffsetStatistics;

/**
 * What the positions themselves give away: a grid they are written on, a line they are moved to.
 */
public final class Places {
  // No receiver and no walker keeps to a line within this; what is written to six decimals and
  // moved
  // to the line does. Common practice, no source.
  private static final double SNAPPED_M = 0.1;

  private Places() {}

  /**
   * Coarse positions and positions snapped to the line, in this order.
   *
   * @param gridDeg the grid on which all positions lie, where there is one
   * @param fixes in the pass
   */
  public static List<Fingerprint> of(OptionalDouble gridDeg, OffsetStatistics offset, int fixes) {
    return List.of(coarse(gridDeg, fixes), snapped(offset, fixes));
  }

  /** A grid leaves no doubt: that n positions lie on one by chance has odds of 10^-2n at most. */
  private static Fingerprint coarse(OptionalDouble gridDeg, int fixes) {
    if (gridDeg.isPresent()) {
      double step = gridDeg.getAsDouble();
      return Fingerprint.of(Kind.COARSE_POSITIONS, Presence.PRESENT, step, step, step, fixes);
    }
    return new Fingerprint(
        Kind.COARSE_POSITIONS,
        Presence.ABSENT,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        fixes);
  }

  private static Fingerprint snapped(OffsetStatistics offset, int fixes) {
    if (offset.uncertainty().isEmpty()) return Fingerprint.unsettled(Kind.SNAPPED_TO_LINE, fixes);
    double sigma = offset.robustSigmaM();
    double half = offset.uncertainty().get().robustSigmaM();
    double low = Math.max(0, sigma - half);
    double high = sigma + half;
    Presence presence =
        high < SNAPPED_M
            ? Presence.PRESENT
            : low > SNAPPED_M ? Presence.ABSENT : Presence.UNSETTLED;
    return Fingerprint.of(Kind.SNAPPED_TO_LINE, presence, sigma, low, high, fixes);
  }
}
