package milewarden.report;

import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.track.Issue;

/** What is wrong with a file or a track: what, where, and what to do. */
public final class IssueWords {
  private static final String COPY_AGAIN = "Copy it again from the device, or export it anew.";
  private static final String NOTHING = "Nothing needs doing; it is counted.";
  private static final String READ_AS_FAR =
      "What could be read up to there is used; copy the file again to have the rest.";

  private IssueWords() {}

  public static Said of(Issue issue) {
    String detail = issue.detail().isBlank() ? "" : " (" + issue.detail().strip() + ")";
    return new Said(what(issue.kind(), detail), issue.place().orElse(""), remedy(issue.kind()));
  }

  private static String what(Issue.Kind kind, String detail) {
    return switch (kind) {
      case NO_POSITION -> "A point has no position" + detail + ".";
      case POSITION_OUT_OF_RANGE -> "A position lies off the globe" + detail + ".";
      case POSITION_NOT_A_NUMBER -> "A position is not a number" + detail + ".";
      case POSITION_SENTINEL ->
          "A position is a placeholder that devices write when they have none" + detail + ".";
      case EXACT_DUPLICATE -> "A point stands twice" + detail + ".";
      case SAME_PATH_TWICE -> "The same path stands in the file twice" + detail + ".";
      case LINE_BESIDE_TRACK -> "A drawn line stands beside the timed track" + detail + ".";
      case TIME_UNREADABLE -> "A time cannot be read" + detail + ".";
      case HEIGHT_UNREADABLE -> "A height is not a number" + detail + ".";
      case VALUE_UNREADABLE -> "A value is not a number" + detail + ".";
      case TIME_GOES_BACK -> "Time goes back" + detail + ".";
      case TIME_REPEATED -> "Two points carry the same time" + detail + ".";
      case TIME_MISSING -> "Points carry no time" + detail + ".";
      case TIME_WITHOUT_ZONE -> "A time names no zone; it was read as UTC" + detail + ".";
      case TIME_IMPLAUSIBLE -> "The date cannot be right" + detail + ".";
      case TIME_WITHOUT_DATE -> "The file gives times of day and no date" + detail + ".";
      case DATE_AMBIGUOUS -> "Its dates can be read with the day or the month first" + detail + ".";
      case NEWEST_FIRST -> "The newest row comes first; it was read from its end" + detail + ".";
      case LINE_DAMAGED -> "A line's checksum is wrong; it was left out" + detail + ".";
      case COLUMN_DOUBTFUL ->
          "A column's heading can mean two things; it is not used" + detail + ".";
      case TRUNCATED -> "The file breaks off" + detail + ".";
      case ODD_VERSION -> "The file names a version of its format that is not known" + detail + ".";
      case MARKUP_MENDED -> "The file's markup breaks a rule and was mended" + detail + ".";
      case CHECKSUM_WRONG -> "The file's checksum is wrong: some of it was changed" + detail + ".";
      case NOT_A_TRACK -> "This is not a recording in a format that is known here" + detail + ".";
      case MALFORMED -> "The file is damaged" + detail + ".";
      case NO_FIXES -> "There is not one usable position in it" + detail + ".";
      case COLUMNS_UNCLEAR ->
          "Which columns are the latitude and the longitude is not clear" + detail + ".";
      case PACKED_TOO_MUCH -> "It unpacks to more than recordings can be" + detail + ".";
      case SEVERAL_RECORDINGS -> "It holds more than one recording" + detail + ".";
      case DOCTYPE ->
          "The file declares a document type, which can pull in other files; that is refused"
              + detail
              + ".";
      case TOO_LARGE -> "The file is larger than a recording can be" + detail + ".";
      case TOO_DEEP -> "Its elements are nested deeper than in any recording" + detail + ".";
      case TOO_MANY_FIXES -> "It holds more positions than a recording can" + detail + ".";
    };
  }

  private static String remedy(Issue.Kind kind) {
    return switch (kind) {
      case NO_POSITION,
          POSITION_OUT_OF_RANGE,
          POSITION_NOT_A_NUMBER,
          POSITION_SENTINEL,
          SAME_PATH_TWICE,
          LINE_BESIDE_TRACK,
          EXACT_DUPLICATE ->
          "The point is left out and counted.";
      case TIME_UNREADABLE, HEIGHT_UNREADABLE, VALUE_UNREADABLE -> "The point is kept without it.";
      case TIME_GOES_BACK, TIME_REPEATED -> "The order of the file is kept.";
      case TIME_MISSING -> "Lengths count; paces and times are not known.";
      case DATE_AMBIGUOUS ->
          "No time of it is used. Say on the run's page which it is: columns dates=day-first.";
      case NEWEST_FIRST, LINE_DAMAGED -> NOTHING;
      case COLUMN_DOUBTFUL ->
          "Say what it is on the run's page, or name its unit in the heading, as in distance (m),"
              + " and drop the file again.";
      case COLUMNS_UNCLEAR ->
          "The file is kept as refused. Name the two columns latitude and longitude, no other one"
              + " so, and drop it again.";
      case TIME_WITHOUT_ZONE, TIME_WITHOUT_DATE, TIME_IMPLAUSIBLE ->
          "Check the date and time on the run's page against your field sheet.";
      case TRUNCATED -> READ_AS_FAR;
      case ODD_VERSION, MARKUP_MENDED -> NOTHING;
      case CHECKSUM_WRONG -> "What could be read is used. " + COPY_AGAIN;
      case NOT_A_TRACK, MALFORMED, NO_FIXES -> "The file is kept as refused. " + COPY_AGAIN;
      case DOCTYPE, TOO_DEEP ->
          "The file is kept as refused. Export it anew from the program that keeps your recordings.";
      case PACKED_TOO_MUCH, SEVERAL_RECORDINGS ->
          "The file is kept as refused. Unpack it and drop the recordings that it holds.";
      case TOO_LARGE, TOO_MANY_FIXES ->
          "The file is kept as it is. Split the recording, or export it with fewer positions.";
    };
  }

  public static Said of(Finding finding) {
    String detail = finding.detail().isBlank() ? "" : " (" + finding.detail().strip() + ")";
    return new Said(what(finding.code(), detail), finding.place(), remedy(finding.code()));
  }

  private static String what(Finding.Code code, String detail) {
    return switch (code) {
      case NO_COURSE -> "The track lies on none of your courses" + detail + ".";
      case AMBIGUOUS_COURSE -> "More than one course fits this track" + detail + ".";
      case NO_PASS -> "The track touches the course but makes no whole pass" + detail + ".";
      case OFF_LINE -> "A stretch lies off the measured line" + detail + ".";
      case PARTIAL_LAP -> "A part of a lap at the begin or end was left out" + detail + ".";
      case BOUNDS_GUESSED -> "Whether marks or gates bound the pass was guessed" + detail + ".";
      case NO_TIMES -> "The track has no times" + detail + ".";
      case COARSE_POSITIONS ->
          "The positions are too coarse for a track length to mean anything" + detail + ".";
      case DISPLAY_TOO_COARSE ->
          "The display's step is too coarse for the distance of this pass" + detail + ".";
      case TOO_MUCH_JUNK -> "Too many positions lie where the course cannot be" + detail + ".";
      case SHOWN_COUNT_MISMATCH ->
          "The number of distances shown is not the number of passes" + detail + ".";
      case LINE_DISAGREES ->
          "The drawn line and the measured length of the course disagree" + detail + ".";
      case PAUSED -> "The recording was paused on the way" + detail + ".";
      case SNAPPED_TO_LINE ->
          "The positions lie on the line as no receiver's do: they were snapped to a map"
              + detail
              + ".";
      case NOT_PLAIN_NOISE ->
          "Noise alone does not explain the excess of this track" + detail + ".";
      case LAPS_UNSURE -> "The number of laps said is not what was counted" + detail + ".";
      case DIRECTION_UNSURE -> "The positions fit the course in both directions" + detail + ".";
      case SETTINGS_DIFFER -> "The settings were other than stated" + detail + ".";
      case CLOCK_DOUBTFUL -> "Its clock may have stood wrong" + detail + ".";
      case CLOCK_MOVED -> "Its times were moved, as was answered" + detail + ".";
      case OWN_DRAFT ->
          "The course's line was drafted from this very track, so its offsets say nothing"
              + detail
              + ".";
    };
  }

  private static String remedy(Finding.Code code) {
    return switch (code) {
      case NO_COURSE ->
          "Add the course to the courses folder, or make a first one from this track: milewarden"
              + " course draft.";
      case AMBIGUOUS_COURSE -> "Name the course on the run's page or in the field sheet.";
      case NO_PASS ->
          "Begin before the first mark and end after the last, or start and stop on the marks.";
      case CLOCK_DOUBTFUL ->
          "It counts with its times as they were read; say on the run's page how its clock stood, or"
              + " when it began: began 2026-05-12 07:05.";
      case CLOCK_MOVED ->
          "The file itself is kept as it came; change the answer on the run's page.";
      case SETTINGS_DIFFER -> "What was answered on it holds; change the answer on the run's page.";
      case OFF_LINE ->
          "Its shown and recorded distances still count; say on the run's page if you left the"
              + " course.";
      case PARTIAL_LAP -> "Whole laps count; nothing needs doing.";
      case BOUNDS_GUESSED -> "Say which it was once for the whole session: bounds marks or gates.";
      case NO_TIMES -> "Lengths count; paces, gaps and speeds are not known.";
      case COARSE_POSITIONS ->
          "Only its shown and recorded distances count; export the device's own file with more"
              + " decimals.";
      case DISPLAY_TOO_COARSE ->
          "To decide by the display, run further in one reading or on a longer course.";
      case TOO_MUCH_JUNK -> "Look at the plan; leave the run out only for a reason of the list.";
      case SHOWN_COUNT_MISMATCH -> "Give one distance for each pass, in order.";
      case LINE_DISAGREES ->
          "Draw the line along the path that was measured, or measure again; see the course's page.";
      case PAUSED -> "Switch off automatic pause; check the shown distance against this.";
      case SNAPPED_TO_LINE ->
          "Switch off the device's snapping to tracks or maps; this run waits for your word.";
      case NOT_PLAIN_NOISE -> "Look at the track: where along the course the excess arises.";
      case LAPS_UNSURE ->
          "The laps counted are the reference; look at the plan, and correct the number in the field"
              + " sheet.";
      case DIRECTION_UNSURE ->
          "Say the direction on the run's page or in the field sheet: forward or reverse.";
      case OWN_DRAFT -> "Judge devices by other recordings; draw or survey the line when you can.";
    };
  }
}
