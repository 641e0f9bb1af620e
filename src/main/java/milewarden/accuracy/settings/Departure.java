package milewarden.accuracy.settings;

/**
 * A setting that was another than the tester says.
 *
 * @param value the kind's number: seconds, times, or degrees; 0 where it has none
 */
public record Departure(Kind kind, double value) {
  /** Which setting. */
  public enum Kind {
    /** Fixes further apart than stated; the median interval, seconds. */
    LONG_INTERVAL,
    /** Fixes at uneven intervals ('smart' recording); the 95th percentile, seconds. */
    UNEVEN_INTERVAL,
    /** Recording stopped while the tester stood; how often. */
    AUTO_PAUSE,
    /** Positions moved to a line. */
    SNAPPED,
    /** Positions written with too few decimals; the grid, degrees. */
    COARSE
  }
}
