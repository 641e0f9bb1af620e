package milewarden.report;

import milewarden.accuracy.fingerprint.Fingerprint;

/** Names of habits of a device, their figures, and a sentence on each. */
public final class FingerprintWords {
  private FingerprintWords() {}

  /** The name in a table. */
  public static String name(Fingerprint.Kind kind) {
    return switch (kind) {
      case SMOOTHING_LAG -> "smoothing";
      case TURN_OVERSHOOT -> "running on at turns";
      case COARSE_POSITIONS -> "coarse positions";
      case SNAPPED_TO_LINE -> "snapped to a line";
      case COUNTED_FROM_STEPS -> "distance from steps";
    };
  }

  /** The estimate with its 95 % interval; a word where there is none. */
  public static String figure(Fingerprint f, Digits digits) {
    if (f.value().isEmpty()) return Digits.UNKNOWN;
    String value = value(f.kind(), f.value().getAsDouble(), digits);
    if (f.low().isEmpty() || f.high().isEmpty()) return value;
    if (f.low().getAsDouble() == f.high().getAsDouble()) return value;
    return value
        + ", "
        + value(f.kind(), f.low().getAsDouble(), digits)
        + " to "
        + value(f.kind(), f.high().getAsDouble(), digits);
  }

  private static String value(Fingerprint.Kind kind, double value, Digits digits) {
    return switch (kind) {
      case SMOOTHING_LAG -> digits.seconds(value);
      case TURN_OVERSHOOT -> digits.change(value);
      case COARSE_POSITIONS -> digits.number(value * 1e5, 1) + " hundred-thousandths of a degree";
      case SNAPPED_TO_LINE -> digits.ground(value);
      case COUNTED_FROM_STEPS -> digits.number(value, 0) + " %";
    };
  }

  /** What the evidence says of this habit, in one sentence. */
  public static String sentence(Fingerprint f, Digits digits) {
    String figure = figure(f, digits);
    return switch (f.kind()) {
      case SMOOTHING_LAG ->
          switch (f.presence()) {
            case PRESENT ->
                "The positions are smoothed and run late by "
                    + figure
                    + " (95 %): the track cuts the inside of bends.";
            case ABSENT -> "No smoothing shows: the track does not cut the inside of bends.";
            case UNSETTLED ->
                "Whether the positions are smoothed can't be told from the bends of this pass.";
          };
      case TURN_OVERSHOOT ->
          switch (f.presence()) {
            case PRESENT -> "At turns the track runs on to the outside by " + figure + " (95 %).";
            case ABSENT -> "The track does not run on at turns.";
            case UNSETTLED ->
                "Whether the track runs on at turns can't be told from the turns of this pass.";
          };
      case COARSE_POSITIONS ->
          f.present()
              ? "The positions lie on a grid of " + figure + ": part of the track's length is it."
              : "The positions lie on no coarse grid.";
      case SNAPPED_TO_LINE ->
          switch (f.presence()) {
            case PRESENT ->
                "The positions keep to a line within "
                    + figure
                    + " (95 %), which no receiver does: they were snapped to a map or a track.";
            case ABSENT -> "The positions were not snapped to a line.";
            case UNSETTLED -> "There are too few positions to tell whether they were snapped.";
          };
      case COUNTED_FROM_STEPS ->
          switch (f.presence()) {
            case PRESENT ->
                "Of its recorded distance "
                    + figure
                    + " (95 %) was counted from steps, not from positions or speed.";
            case ABSENT -> "Its recorded distance is not counted from steps.";
            case UNSETTLED ->
                "Whether its recorded distance is counted from steps can't be told from this pass.";
          };
    };
  }
}
