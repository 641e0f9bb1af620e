package milewarden.matching;

/**
 * Where a pass begins or ends: at a fix, or between a fix and the next one.
 *
 * @param fix the fix at or before it
 * @param fraction of the step to the next fix, 0 to below 1
 * @param gateM the unrolled chainage of the gate that is passed there, metres on the ellipsoid; NaN
 *     where the recording or a turn bounds the pass
 */
public record PassEnd(int fix, double fraction, double gateM) {
  public PassEnd {
    if (!(fraction >= 0 && fraction < 1)) throw new IllegalArgumentException("part: " + fraction);
  }

  /** The pass is bounded by this fix itself. */
  static PassEnd at(int fix) {
    return new PassEnd(fix, 0, Double.NaN);
  }

  public boolean isGate() {
    return !Double.isNaN(gateM);
  }

  /** Whether this lies before {@code other} in time. */
  boolean isBefore(PassEnd other) {
    return fix < other.fix || (fix == other.fix && fraction < other.fraction);
  }
}
