package milewarden.course;

/**
 * What a reader of a usable course must know.
 *
 * @param kind what
 * @param detail the numbers or names that belong to it, short; may be empty
 */
public record CourseNotice(Kind kind, String detail) {
  /** Closed list. */
  public enum Kind {
    /** The drawn line and the measured length differ by more than 0.1 %. */
    LINE_OFF,
    /** A property that this program does not know: kept. */
    UNKNOWN_PROPERTY,
    /** A feature that is neither the line nor a mark: not used. */
    UNUSED_FEATURE,
    /** No standard uncertainty stated: taken as 0.1 % of the length. */
    UNCERTAINTY_ASSUMED,
    /** A safety factor is part of the reference. */
    SAFETY_FACTOR,
    /** The height profile does not reach the end of the course. */
    PROFILE_SHORT,
    /** Positions repeated in the line were taken out. */
    REPEATED_POSITION,
    /** The raw readings in the file give another length than it states. */
    SHEET_DISAGREES,
    /** The raw readings in the file can't be worked out. */
    SHEET_NOT_UNDERSTOOD,
    /** Heights in the line are not used. */
    LINE_HEIGHTS_UNUSED
  }
}
