package milewarden.device;

import milewarden.units.LengthUnit;

/**
 * A distance as it stood on a display.
 *
 * @param value the number read, in {@code unit}; not negative
 * @param unit the display's unit
 * @param step the smallest step that the display shows, in {@code unit}; above 0
 * @param rounding what the display does with further digits
 */
public record Reading(double value, LengthUnit unit, double step, Rounding rounding) {
  public Reading {
    if (!(value >= 0) || !Double.isFinite(value))
      throw new IllegalArgumentException("value: " + value);
    if (!(step > 0) || !Double.isFinite(step)) throw new IllegalArgumentException("step: " + step);
  }
}
