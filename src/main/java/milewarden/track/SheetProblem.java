package milewarden.track;

import java.util.Optional;

/**
 * Something wrong in a field sheet.
 *
 * @param kind what
 * @param row the line of the file, the header being line 1; 0 where it is the whole sheet
 * @param column the heading of the column; empty where it is the whole row
 * @param detail the cell's text, short; may be empty
 */
public record SheetProblem(Kind kind, int row, Optional<String> column, String detail) {
  /** Closed list. */
  public enum Kind {
    // Of a cell: the row is kept without it.
    NOT_A_NUMBER,
    NEGATIVE_NUMBER,
    UNKNOWN_CODE,
    BAD_DATE,
    AMBIGUOUS_DATE,
    BAD_TIME,
    // Of a row: it is left out.
    TOO_MANY_CELLS,
    NOTHING_TO_COUNT,
    REPEATED_KEY,
    // Of the sheet: it is refused.
    EMPTY,
    NO_HEADER,
    NOT_TEXT,
    TOO_LARGE,
    UNREADABLE,
    // Of a file of tags: it is refused.
    NO_TAGS
  }
}
