package milewarden.report;

import milewarden.course.FieldSheetIssue;
import milewarden.course.LengthBudget.Source;
import milewarden.course.LengthBudget.Term;
import milewarden.course.LengthBudget.Warning;

/** Names and sentences of a course's measurement. */
public final class MeasuredWords {
  // An example.
  private static final double ASIDE_M = 0.15;

  /** Why the largest term is asked for. */
  public static String pathWhy(Digits digits) {
    return "The line that was measured and the line that feet take are not the same. Beside a line"
        + " that turns once, a path is longer by 2π times its distance: "
        + digits.ground(ASIDE_M, 2)
        + " to the side is "
        + digits.ground(2 * Math.PI * ASIDE_M)
        + " a lap, more than wheel, tape and marks together. Paint the line, walk it, or choose a"
        + " course that turns as much left as right.";
  }

  /** What is done with the factor of certified courses. */
  public static final String FACTOR_WHY =
      "Certified road courses are laid out 1.001 times as long as their figure, so that none is"
          + " short. That factor is never put on by itself: say whether the figure carries it.";

  private MeasuredWords() {}

  public static String of(Term term) {
    return term.name().isBlank() ? of(term.source()) : term.name();
  }

  private static String of(Source source) {
    return switch (source) {
      case CALIBRATION_LENGTH -> "length of the calibration course";
      case CALIBRATION_RIDES -> "spread of the calibration rides";
      case DRIFT -> "change of the constant, before to after";
      case TEMPERATURE -> "temperature";
      case RESOLUTION -> "one count";
      case PASSES -> "spread of the passes over the course";
      case TAPE_CERTIFICATE -> "the tape's certificate";
      case TAPE_LAYING -> "laying the tape: line, pull, sag";
      case CERTIFIED_FIGURE -> "how near a certified course is to its figure";
      case MARKS -> "standing on the marks";
      case PATH -> "the path walked against the line measured";
      case OTHER -> "another contribution";
    };
  }

  /** On what a contribution rests. */
  public static String basis(Term term) {
    if (term.assumed()) return "assumed: the sheet says nothing";
    return Double.isFinite(term.degreesOfFreedom()) ? "from the readings' spread" : "as stated";
  }

  public static Said of(Warning warning) {
    String detail = warning.detail().isBlank() ? "" : " (" + warning.detail() + ")";
    return new Said(what(warning.kind()) + detail + ".", "", remedy(warning.kind()));
  }

  private static String what(Warning.Kind kind) {
    return switch (kind) {
      case MEASURE_AGAIN -> "The constants before and after differ by more than 0.1 %";
      case CONSTANT_MOVED -> "The constants before and after differ by more than 0.05 %";
      case NO_RIDES_AFTER -> "There are no calibration rides after the course";
      case FEW_RIDES -> "There are fewer than four calibration rides on a side";
      case SHORT_CALIBRATION -> "The calibration course is shorter than 300 m";
      case CALIBRATION_UNCERTAINTY_ASSUMED ->
          "How well the calibration course is known is not said; 0.01 % is taken";
      case COUNTER_TURNS_ASSUMED -> "The counter began again at 0; once is taken";
      case ONE_PASS -> "The course was measured once";
      case PASSES_APART -> "The passes over the course differ by more than 0.08 %";
      case TEMPERATURE_NOT_NOTED -> "Temperatures are not noted for every ride and pass";
      case TAPE_NOT_CORRECTED -> "The tape's temperature is not noted, so it is not corrected";
      case PATH_NOT_SAID -> "The path walked against the line measured is not said";
      case FACTOR_CARRIED -> "The certificate's figure carries the factor 1.001 as you say";
      case FACTOR_NOT_CARRIED -> "The certificate's figure carries no factor as you say";
    };
  }

  private static String remedy(Warning.Kind kind) {
    return switch (kind) {
      case MEASURE_AGAIN -> "Measure the course again, calibrations in the same hour.";
      case CONSTANT_MOVED -> "Pump the tyre an hour before, ride in the shade, measure once more.";
      case NO_RIDES_AFTER -> "Ride the calibration course again within the hour.";
      case FEW_RIDES -> "Ride it four times before and four times after.";
      case SHORT_CALIBRATION -> "Tape 300 m or more on a straight, level road.";
      case CALIBRATION_UNCERTAINTY_ASSUMED -> "Say it: the tape's certificate and its spread.";
      case COUNTER_TURNS_ASSUMED -> "Note the turns, or say roughly how long the course is.";
      case ONE_PASS -> "Measure it a second time, the other way.";
      case PASSES_APART -> "Look for the pass that left the line, and measure again.";
      case TEMPERATURE_NOT_NOTED -> "Read a thermometer in the shade at each.";
      case TAPE_NOT_CORRECTED -> "Lay a thermometer on the ground beside the tape.";
      case PATH_NOT_SAID -> "Say how far to the side feet keep, and how often the course turns.";
      case FACTOR_CARRIED, FACTOR_NOT_CARRIED -> "";
    };
  }

  public static Said of(FieldSheetIssue issue) {
    String detail = issue.detail().isBlank() ? "" : " (" + issue.detail().strip() + ")";
    return new Said(what(issue.kind()) + detail + ".", issue.place(), remedy(issue.kind()));
  }

  private static String what(FieldSheetIssue.Kind kind) {
    return switch (kind) {
      case NOT_TEXT -> "This is no text";
      case TOO_LARGE -> "This is larger than a field sheet can be";
      case EMPTY -> "The sheet is empty";
      case UNREADABLE -> "A quote is never closed, so nothing behind it can be read";
      case NO_HEADER -> "The first row has no heading item";
      case UNKNOWN_ITEM -> "This item is not known";
      case REPEATED_ITEM -> "This item stands twice";
      case MISSING_ITEM -> "An item is missing";
      case NOT_A_NUMBER -> "This is no number";
      case OUT_OF_RANGE -> "This number can't be";
      case BAD_DATE -> "This is no date";
      case UNKNOWN_METHOD -> "This method has no field sheet";
      case YES_OR_NO -> "This is neither yes nor no";
      case HALF_A_READING -> "A reading lacks one of its cells";
      case COUNTER_WENT_BACK -> "The counter went back";
      case NO_RIDES_BEFORE -> "There is no ride over the calibration course before the course";
      case NO_PASSES -> "There is no pass over the course";
      case OTHER_METHODS_ITEM -> "This item belongs to another method";
      case FACTOR_NOT_ANSWERED -> "Whether the figure carries the factor 1.001 is not said";
      case FACTOR_WITH_READINGS -> "Readings of an instrument carry no safety factor";
    };
  }

  private static String remedy(FieldSheetIssue.Kind kind) {
    return switch (kind) {
      case NOT_TEXT -> "Save the sheet as CSV.";
      case TOO_LARGE -> "Send the sheet of one measurement.";
      case EMPTY -> "Begin with a blank sheet; the program gives one.";
      case UNREADABLE -> "Close the quote.";
      case NO_HEADER -> "Head it item,value,start,end,turns,temperature_c,note.";
      case UNKNOWN_ITEM -> "Mend its name, or take the row out.";
      case REPEATED_ITEM -> "Keep one of them.";
      case MISSING_ITEM -> "Add it.";
      case NOT_A_NUMBER -> "Write digits, with a point for the decimals.";
      case OUT_OF_RANGE -> "Mend it; lengths are in metres.";
      case BAD_DATE -> "Write it as 2026-05-12.";
      case UNKNOWN_METHOD ->
          "Write wheel, calibrated-bicycle, steel-tape or certificate; a survey states its own"
              + " uncertainty.";
      case YES_OR_NO -> "Write yes or no.";
      case HALF_A_READING -> "Fill start and end, or for a tape the value, or take the row out.";
      case COUNTER_WENT_BACK ->
          "If it began again at 0, say counter_digits, and turns of 1 or more; else mend it.";
      case NO_RIDES_BEFORE -> "Add the rides before.";
      case NO_PASSES -> "Add a pass.";
      case OTHER_METHODS_ITEM -> "Take it out, or change the method.";
      case FACTOR_NOT_ANSWERED -> "Answer safety_factor with yes or no; the certificate says it.";
      case FACTOR_WITH_READINGS -> "Leave it out, or use the method certificate for a figure.";
    };
  }
}
