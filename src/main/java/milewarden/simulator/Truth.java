package milewarden.simulator;

/**
 * Where the device truly was at every fix of a simulated track, in the order of the fixes. The
 * arrays are handed out as they are: never write to them.
 */
public final class Truth {
  private final double referenceM;
  private final double[] travelledM;
  private final double[] chainageM;
  private final double[] offsetM;
  private final double[] latitudeDeg;
  private final double[] longitudeDeg;
  private final long[] timesMs;
  private final int[] lap;
  private final boolean[] standing;
  private final boolean[] offCourse;
  private final boolean[] outlier;

  Truth(
      double referenceM,
      double[] travelledM,
      double[] chainageM,
      double[] offsetM,
      double[] latitudeDeg,
      double[] longitudeDeg,
      long[] timesMs,
      int[] lap,
      boolean[] standing,
      boolean[] offCourse,
      boolean[] outlier) {
    this.referenceM = referenceM;
    this.travelledM = travelledM;
    this.chainageM = chainageM;
    this.offsetM = offsetM;
    this.latitudeDeg = latitudeDeg;
    this.longitudeDeg = longitudeDeg;
    this.timesMs = timesMs;
    this.lap = lap;
    this.standing = standing;
    this.offCourse = offCourse;
    this.outlier = outlier;
  }

  /** The true distance from the first mark to the last, metres on the ground. */
  public double referenceM() {
    return referenceM;
  }

  /** Metres along the line since the first mark in the direction of travel; negative before it. */
  public double[] travelledM() {
    return travelledM;
  }

  /**
   * Metres along the course from its start. On a closed course it goes on over laps and, when run
   * in reverse, below 0; on an open course it lies outside 0 to L before and behind the marks.
   */
  public double[] chainageM() {
    return chainageM;
  }

  /** Metres beside the line, positive to the right of the direction of travel. */
  public double[] offsetM() {
    return offsetM;
  }

  public double[] latitudeDeg() {
    return latitudeDeg;
  }

  public double[] longitudeDeg() {
    return longitudeDeg;
  }

  /** When the device was there, UTC milliseconds since 1970, whatever its file says. */
  public long[] timesMs() {
    return timesMs;
  }

  /** Which lap of a closed course or way over an open one, from 1; 0 outside of the marks. */
  public int[] lap() {
    return lap;
  }

  /** The body stood. */
  public boolean[] standing() {
    return standing;
  }

  /** The body was on a detour, away from the line. */
  public boolean[] offCourse() {
    return offCourse;
  }

  /** The position was thrown out and back. */
  public boolean[] outlier() {
    return outlier;
  }
}
