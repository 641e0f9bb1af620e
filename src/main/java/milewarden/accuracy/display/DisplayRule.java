package milewarden.accuracy.display;

/** How a display brings a distance to its digits. */
public enum DisplayRule {
  /** To the nearest step. */
  ROUNDED,
  /** To the step below. */
  CUT_OFF,
  /** To the nearest hundredth of a mile first, and that to its own unit, to the nearest step. */
  MILES_FIRST,
  /** To the hundredth of a mile below first, and that to its own unit, to the step below. */
  MILES_FIRST_CUT_OFF,
  /** To the nearest step, or the step below, of a distance that is some seconds old. */
  LATE
}
