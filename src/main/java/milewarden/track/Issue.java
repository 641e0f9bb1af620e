package milewarden.track;

import java.util.Optional;

/**
 * Something wrong in what was given to us.
 *
 * @param kind what
 * @param place where: a line, a byte, a row; empty where it is the whole
 * @param detail the offending text or number, short; may be empty
 */
public record Issue(Kind kind, Optional<String> place, String detail) {

  /** Closed list of what can be wrong with a track file. */
  public enum Kind {
    // Of a fix: it is dropped and counted.
    NO_POSITION,
    POSITION_OUT_OF_RANGE,
    POSITION_NOT_A_NUMBER,
    POSITION_SENTINEL,
    SAME_PATH_TWICE,
    LINE_BESIDE_TRACK,
    EXACT_DUPLICATE,
    // Of a fix: it is kept, the value is not.
    TIME_UNREADABLE,
    HEIGHT_UNREADABLE,
    VALUE_UNREADABLE,
    // Of a track: it is kept as it is and said.
    TIME_GOES_BACK,
    TIME_REPEATED,
    TIME_MISSING,
    TIME_WITHOUT_ZONE,
    TIME_IMPLAUSIBLE,
    TIME_WITHOUT_DATE,
    DATE_AMBIGUOUS,
    NEWEST_FIRST,
    LINE_DAMAGED,
    COLUMN_DOUBTFUL,
    TRUNCATED,
    ODD_VERSION,
    CHECKSUM_WRONG,
    MARKUP_MENDED,
    // Of a file: it is refused.
    NOT_A_TRACK,
    MALFORMED,
    NO_FIXES,
    COLUMNS_UNCLEAR,
    PACKED_TOO_MUCH,
    SEVERAL_RECORDINGS,
    DOCTYPE,
    TOO_LARGE,
    TOO_DEEP,
    TOO_MANY_FIXES;

    /** Whether each issue of this kind is one fix that was not kept. */
    public boolean dropsFix() {
      return compareTo(EXACT_DUPLICATE) <= 0;
    }
  }

  public static Issue at(Kind kind, String place, String detail) {
    return new Issue(kind, Optional.of(place), detail);
  }

  public static Issue of(Kind kind, String detail) {
    return new Issue(kind, Optional.empty(), detail);
  }
}
