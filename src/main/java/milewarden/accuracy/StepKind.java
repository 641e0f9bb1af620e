package milewarden.accuracy;

/** What a step between two fixes is; each step is of the first kind that fits, in this order. */
public enum StepKind {
  /** Longer than 3 median intervals, or over a break between segments. */
  GAP,
  /** To or from a spike. */
  SPIKE,
  /** Matched speed below 0.3 m/s. */
  STANDING,
  /** Where the line's radius is below 50 m. */
  BEND,
  STRAIGHT
}
