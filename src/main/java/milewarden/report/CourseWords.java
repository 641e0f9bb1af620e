package milewarden.report;

import milewarden.course.CourseIssue;
import milewarden.course.CourseNotice;
import milewarden.course.draft.DraftResult;

/** What is wrong with a course file, and what its reader must know. */
public final class CourseWords {
  private CourseWords() {}

  public static Said of(CourseIssue issue) {
    String detail = issue.detail().isBlank() ? "" : " (" + issue.detail().strip() + ")";
    return new Said(
        what(issue.kind()) + detail + ".", issue.place().orElse(""), remedy(issue.kind()));
  }

  private static String what(CourseIssue.Kind kind) {
    return switch (kind) {
      case NOT_JSON -> "This is no JSON";
      case NOT_GEOJSON -> "This is no GeoJSON feature or collection of features";
      case NO_LINE -> "There is no line";
      case SEVERAL_LINES -> "There is more than one line";
      case TOO_FEW_POSITIONS -> "The line has fewer positions than a course needs";
      case BAD_POSITION -> "A position is no longitude and latitude in degrees";
      case NOT_CLOSED -> "The course is closed but its line does not end where it begins";
      case MISSING_PROPERTY -> "A property is missing";
      case BAD_PROPERTY -> "A property has a value that it can't have";
      case BAD_PROFILE -> "The height profile can't be used";
      case LINE_DISAGREES -> "The drawn line and the measured length differ by more than 0.5 %";
    };
  }

  private static String remedy(CourseIssue.Kind kind) {
    return switch (kind) {
      case NOT_JSON, NOT_GEOJSON -> "Save the course as GeoJSON (RFC 7946).";
      case NO_LINE, SEVERAL_LINES -> "Give it one LineString from start to finish.";
      case TOO_FEW_POSITIONS -> "Draw the line along the whole course.";
      case BAD_POSITION -> "Write longitude first, then latitude, in degrees.";
      case NOT_CLOSED -> "Repeat the first position at the end, or say closed: false.";
      case MISSING_PROPERTY -> "Add it to the line's properties.";
      case BAD_PROPERTY -> "Mend the value.";
      case BAD_PROFILE ->
          "Write pairs of chainage and height in metres, ascending, or leave it out.";
      case LINE_DISAGREES ->
          "Draw the line along the path that was measured, or mend the measured length.";
    };
  }

  public static Said of(CourseNotice notice) {
    String detail = notice.detail().isBlank() ? "" : " (" + notice.detail().strip() + ")";
    return new Said(what(notice.kind()) + detail + ".", "", "");
  }

  private static String what(CourseNotice.Kind kind) {
    return switch (kind) {
      case LINE_OFF -> "The drawn line and the measured length differ by more than 0.1 %";
      case UNKNOWN_PROPERTY -> "A property is not known here; it is kept as it is";
      case UNUSED_FEATURE -> "A feature that is neither the line nor a mark is not used";
      case UNCERTAINTY_ASSUMED -> "No standard uncertainty is stated; 0.1 % of the length is taken";
      case SAFETY_FACTOR -> "The reference length carries a safety factor";
      case PROFILE_SHORT -> "The height profile does not reach the end of the course";
      case SHEET_DISAGREES ->
          "The readings of the field sheet give another length than the file states";
      case SHEET_NOT_UNDERSTOOD ->
          "The field sheet in the file can't be worked out; it is kept as it is";
      case REPEATED_POSITION -> "Positions that stood twice in the line were taken out";
      case LINE_HEIGHTS_UNUSED -> "Heights in the line are not used; write a height_profile";
    };
  }

  /** Why no course could be drafted from a track. */
  public static Said of(DraftResult.Failed failed) {
    String detail = failed.detail().isBlank() ? "" : " (" + failed.detail().strip() + ")";
    return switch (failed.reason()) {
      case TOO_FEW_FIXES ->
          new Said(
              "The track has too few places for a line" + detail + ".",
              "",
              "Record the whole course once.");
      case PATH_SHORTER ->
          new Said(
              "The recorded path is shorter than the measured length by more than 0.5 %"
                  + detail
                  + ".",
              "",
              "Check the length and its unit, or record again over the very path that was"
                  + " measured, from mark to mark.");
      case PATH_LONGER ->
          new Said(
              "The recorded path is so much longer than the measured length that no smoothing"
                  + " makes them agree"
                  + detail
                  + ".",
              "",
              "Check the length and its unit, and record from mark to mark only.");
      case NOT_A_LOOP ->
          new Said(
              "The track does not come back to its start" + detail + ".",
              "",
              "Say that the course is open, or record the whole loop.");
    };
  }
}
