package milewarden.report;

import milewarden.track.SheetProblem;

/** What is wrong with a field sheet or one of its rows. */
public final class SheetWords {
  private static final String DROP_AGAIN = " and drop the sheet again; its rows are revised.";

  private SheetWords() {}

  public static Said of(SheetProblem problem) {
    String column = problem.column().map(c -> " in column " + c).orElse("");
    String detail = problem.detail().isBlank() ? "" : " (" + problem.detail().strip() + ")";
    String where = problem.row() > 0 ? "row " + problem.row() : "";
    return new Said(what(problem.kind()) + column + detail + ".", where, remedy(problem.kind()));
  }

  private static String what(SheetProblem.Kind kind) {
    return switch (kind) {
      case NOT_A_NUMBER -> "A number is expected";
      case NEGATIVE_NUMBER -> "A number below zero stands";
      case UNKNOWN_CODE -> "A word that is not in the list stands";
      case BAD_DATE -> "A date that can't be read stands";
      case AMBIGUOUS_DATE -> "A date that can mean two days stands";
      case BAD_TIME -> "A time that can't be read stands";
      case TOO_MANY_CELLS -> "The row has more cells than the header";
      case NOTHING_TO_COUNT -> "The row names neither a file nor a shown distance";
      case REPEATED_KEY -> "The row has the session, unit and pass of another one";
      case EMPTY -> "The sheet is empty";
      case NO_HEADER -> "The first row names no column that is known";
      case NOT_TEXT -> "The sheet is no text";
      case TOO_LARGE -> "The sheet is larger than a field sheet can be";
      case UNREADABLE -> "The sheet can't be read";
      case NO_TAGS -> "The file of tags can't be read";
    };
  }

  private static String remedy(SheetProblem.Kind kind) {
    return switch (kind) {
      case NOT_A_NUMBER, NEGATIVE_NUMBER, UNKNOWN_CODE, BAD_TIME ->
          "The row is taken without it; mend it" + DROP_AGAIN;
      case BAD_DATE, AMBIGUOUS_DATE -> "The row is taken without it; write 2026-05-12" + DROP_AGAIN;
      case TOO_MANY_CELLS, NOTHING_TO_COUNT, REPEATED_KEY ->
          "The row is left out; mend it" + DROP_AGAIN;
      case EMPTY, NO_HEADER ->
          "Begin with a row such as session,date,file,unit,firmware,course,carriage,gait,shown.";
      case NOT_TEXT -> "Save it as CSV in UTF-8.";
      case TOO_LARGE -> "Cut it into one sheet per session.";
      case UNREADABLE -> "Save it again as CSV in UTF-8.";
      case NO_TAGS -> "Write a line for each tag, such as unit: K9, in UTF-8, and drop it again.";
    };
  }
}
