package milewarden.simulator.campaign;

import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.simulator.SimulatedTrack;
import milewarden.track.Track;
import milewarden.units.LengthUnit;

/**
 * The rule by which a display shows a distance.
 *
 * @param unit the unit shown
 * @param step the smallest step shown, in that unit; above 0
 * @param rounding ROUNDED to the nearest step (a half goes up) or TRUNCATED to the step below; the
 *     display itself always knows, so UNKNOWN is refused
 * @param ruleKnown false where the tester was not told the rule: the reading then says UNKNOWN
 * @param milesFirst true where the device brings the distance to hundredths of a mile by the same
 *     rule first, and that number to its unit
 * @param refreshS seconds between two renewals; 0 where the display is always up to date
 */
public record Display(
    LengthUnit unit,
    double step,
    Rounding rounding,
    boolean ruleKnown,
    boolean milesFirst,
    double refreshS) {
  private static final double MILE_STEP = 0.01;

  public Display {
    if (!(step > 0)) throw new IllegalArgumentException("step: " + step);
    if (rounding == Rounding.UNKNOWN) throw new IllegalArgumentException("a display has a rule");
    if (!(refreshS >= 0)) throw new IllegalArgumentException("refresh: " + refreshS);
  }

  public Display(LengthUnit unit, double step, Rounding rounding, boolean ruleKnown) {
    this(unit, step, rounding, ruleKnown, false, 0);
  }

  public Display withMilesFirst() {
    return new Display(unit, step, rounding, ruleKnown, true, refreshS);
  }

  public Display withRefresh(double seconds) {
    return new Display(unit, step, rounding, ruleKnown, milesFirst, seconds);
  }

  /** What stands on the display when it was renewed at {@code metres}. */
  public Reading show(double metres) {
    double kept = metres;
    if (milesFirst) {
      double mileM = LengthUnit.MILE.metres();
      kept = stepped(metres / mileM, MILE_STEP) * mileM;
    }
    double value = stepped(kept / unit.metres(), step);
    return new Reading(value, unit, step, ruleKnown ? rounding : Rounding.UNKNOWN);
  }

  /**
   * What stands on the display at a moment: the distance of the latest renewal. Renewals come every
   * {@code refreshS} from the start on.
   *
   * @param secondsAfterStart at or after the first fix
   */
  public Reading show(SimulatedTrack made, double secondsAfterStart) {
    double renewed =
        refreshS == 0 ? secondsAfterStart : Math.floor(secondsAfterStart / refreshS) * refreshS;
    return show(countedM(made.track(), renewed));
  }

  /** The device's distance at the latest fix that is not behind this moment; 0 before the first. */
  private static double countedM(Track track, double seconds) {
    double last = 0;
    double until = track.timesMs()[0] + 1000 * seconds;
    for (int i = 0; i < track.size() && track.timesMs()[i] <= until; i++)
      last = track.distancesM()[i];
    return last;
  }

  private double stepped(double value, double by) {
    double steps = Math.max(0, value / by);
    double whole = rounding == Rounding.TRUNCATED ? Math.floor(steps) : Math.floor(steps + 0.5);
    // Steps are decimal fractions: dividing by their inverse gives 0.27 and not
    // 0.27000000000000002.
    double perUnit = Math.rint(1 / by);
    return Math.abs(perUnit * by - 1) < 1e-9 ? whole / perUnit : whole * by;
  }
}
