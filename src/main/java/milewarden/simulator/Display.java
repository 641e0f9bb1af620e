package milewarden.simulator;

import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.units.LengthUnit;

/**
 * The rule by which a display shows a distance.
 *
 * @param unit the unit shown
 * @param step the smallest step shown, in that unit; above 0
 * @param rounding ROUNDED to the nearest step (a half goes up) or TRUNCATED to the step below; the
 *     display itself always knows, so UNKNOWN is refused
 * @param ruleKnown false where the tester was not told the rule: the reading then says UNKNOWN
 */
public record Display(LengthUnit unit, double step, Rounding rounding, boolean ruleKnown) {
  public Display {
    if (!(step > 0)) throw new IllegalArgumentException("step: " + step);
    if (rounding == Rounding.UNKNOWN) throw new IllegalArgumentException("a display has a rule");
  }

  /** What stands on the display after {@code metres}. */
  public Reading show(double metres) {
    double steps = Math.max(0, metres / unit.metres() / step);
    double whole = rounding == Rounding.TRUNCATED ? Math.floor(steps) : Math.floor(steps + 0.5);
    // Steps are decimal fractions: dividing by their inverse gives 0.27 and not
    // 0.27000000000000002.
    double perUnit = Math.rint(1 / step);
    double value = Math.abs(perUnit * step - 1) < 1e-9 ? whole / perUnit : whole * step;
    return new Reading(value, unit, step, ruleKnown ? rounding : Rounding.UNKNOWN);
  }
}
