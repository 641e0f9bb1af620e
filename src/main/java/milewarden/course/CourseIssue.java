package milewarden.course;

import java.util.Optional;

/**
 * Why a course file is refused.
 *
 * @param kind what is wrong
 * @param place where: a JSON pointer ({@code /features/0/properties/measured_length_m}) or a line
 *     and column; empty where it is the whole
 * @param detail the offending value or the numbers that belong to it, short; may be empty
 */
public record CourseIssue(Kind kind, Optional<String> place, String detail) {
  /** Closed list. */
  public enum Kind {
    NOT_JSON,
    NOT_GEOJSON,
    NO_LINE,
    SEVERAL_LINES,
    TOO_FEW_POSITIONS,
    BAD_POSITION,
    NOT_CLOSED,
    MISSING_PROPERTY,
    BAD_PROPERTY,
    BAD_PROFILE,
    LINE_DISAGREES
  }
}
