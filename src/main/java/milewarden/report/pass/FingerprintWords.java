package milewarden.report.pass;

import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.fingerprint.Fingerprint.Presence;
import milewarden.report.Digits;

/** Names of habits of a device, their figures, and a sentence on each. */
public final class FingerprintWords {
  // A degree of latitude, the international nautical mile of 1,852 m a minute: exact enough to name
  // the size of a grid.
  private static final double METRES_PER_DEGREE = 60 * 1852.0;

  private FingerprintWords() {}

  /** The name in a table. */
  public static String name(Fingerprint.Kind kind) {
    return switch (kind) {
      case SMOOTHING_LAG -> "smoothing";
      case TURN_OVERSHOOT -> "running on at turns";
      case COARSE_POSITIONS -> "coarse positions";
      case SNAPPED_TO_LINE -> "snapped to the line";
      case COUNTED_FROM_STEPS -> "distance from steps";
    };
  }

  /** What the evidence says, in a word or two. */
  public static String presence(Presence presence) {
    return switch (presence) {
      case PRESENT -> "yes";
      case ABSENT -> "no";
      case UNSETTLED -> "not settled";
    };
  }

  /** The estimate with its 95 % interval; a word where there is none. */
  public static String figure(Fingerprint f, Digits digits) {
    if (f.value().isEmpty()) return Digits.UNKNOWN;
    String value = value(f.kind(), f.value().getAsDouble(), digits);
    if (f.low().isEmpty()) return value;
    String low = value(f.kind(), f.low().getAsDouble(), digits);
    if (f.high().isEmpty()) return value + " (" + low + " or more)";
    String high = value(f.kind(), f.high().getAsDouble(), digits);
    return low.equals(high) ? value : value + " (" + low + " to " + high + ")";
  }

  private static String value(Fingerprint.Kind kind, double value, Digits digits) {
    return switch (kind) {
      case SMOOTHING_LAG -> digits.seconds(value);
      case TURN_OVERSHOOT -> digits.change(value);
      case COARSE_POSITIONS -> digits.ground(value * METRES_PER_DEGREE);
      case SNAPPED_TO_LINE -> digits.ground(value);
      case COUNTED_FROM_STEPS -> digits.number(value, 0) + " %";
    };
  }

  /** What the evidence says of this habit, in one sentence. */
  public static String sentence(Fingerprint f, Digits digits) {
    String figure = figure(f, digits);
    return switch (f.kind()) {
      case SMOOTHING_LAG -> smoothing(f, figure, digits);
      case TURN_OVERSHOOT -> overshoot(f, figure, digits);
      case COARSE_POSITIONS ->
          f.present()
              ? "All "
                  + digits.count(f.n())
                  + " positions lie on a grid of "
                  + figure
                  + ", to which they were rounded."
              : "The positions are not rounded to a grid that could be seen.";
      case SNAPPED_TO_LINE ->
          switch (f.presence()) {
            case PRESENT ->
                "The positions keep to the line within "
                    + figure
                    + ", which no receiver does: they were moved to a map or a track.";
            case ABSENT ->
                "The positions were not moved to the line: they scatter by " + figure + ".";
            case UNSETTLED ->
                "There are too few positions to tell whether they were moved to the line.";
          };
      case COUNTED_FROM_STEPS ->
          switch (f.presence()) {
            case PRESENT ->
                "Of its recorded distance "
                    + figure
                    + " was counted from steps, not from positions or speed.";
            case ABSENT -> "Its recorded distance is not counted from steps.";
            case UNSETTLED ->
                "Whether its recorded distance is counted from steps can't be told from this pass.";
          };
    };
  }

  private static String smoothing(Fingerprint f, String figure, Digits digits) {
    String bends = digits.counted(f.n(), "bend");
    return switch (f.presence()) {
      case PRESENT ->
          "The positions are smoothed: in "
              + bends
              + " they run inside of the line as if they were late by "
              + figure
              + ". A walker who cuts the bends looks the same.";
      case ABSENT ->
          "No smoothing that matters: in " + bends + " the track does not cut to the inside.";
      case UNSETTLED ->
          f.n() == 0
              ? "Without bends, smoothing does not show."
              : "Whether the positions are smoothed is not settled by "
                  + bends
                  + ": "
                  + (f.value().isPresent() ? "a lag of " + figure + "." : "no lag can be told.");
    };
  }

  private static String overshoot(Fingerprint f, String figure, Digits digits) {
    String bends = digits.counted(f.n(), "bend");
    return switch (f.presence()) {
      case PRESENT ->
          "The track runs on: in and behind "
              + bends
              + " it lies outside of the line by up to "
              + figure
              + ", as behind a filter that carries a speed along.";
      case ABSENT -> "In and behind " + bends + " the track does not run on to the outside.";
      case UNSETTLED ->
          f.n() == 0
              ? "Without bends, running on does not show."
              : "Whether the track runs on is not settled by "
                  + bends
                  + ": "
                  + (f.value().isPresent() ? "by " + figure + "." : "nothing can be told.");
    };
  }
}
