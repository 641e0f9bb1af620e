package milewarden.course;

/**
 * Why a field sheet of a course can't be worked out.
 *
 * @param place a line of the file, or a field of the form; empty where it is the whole
 * @param detail what stands there, short; may be empty
 */
public record FieldSheetIssue(Kind kind, String place, String detail) {
  /** Closed list. */
  public enum Kind {
    NOT_TEXT,
    TOO_LARGE,
    EMPTY,
    UNREADABLE,
    NO_HEADER,
    UNKNOWN_ITEM,
    REPEATED_ITEM,
    MISSING_ITEM,
    NOT_A_NUMBER,
    OUT_OF_RANGE,
    BAD_DATE,
    UNKNOWN_METHOD,
    YES_OR_NO,
    /** A ride or a pass lacks its start or its end. */
    HALF_A_READING,
    /** The end is not beyond the start, and the counter is not said to begin again. */
    COUNTER_WENT_BACK,
    NO_RIDES_BEFORE,
    NO_PASSES,
    /** An item that belongs to another method. */
    OTHER_METHODS_ITEM,
    /** Whether the figure carries the safety factor is not said. */
    FACTOR_NOT_ANSWERED,
    /** Raw readings can't carry the safety factor. */
    FACTOR_WITH_READINGS
  }
}
