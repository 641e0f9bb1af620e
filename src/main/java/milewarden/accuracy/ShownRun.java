package milewarden.accuracy;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;

/**
 * A run known by its shown distance alone: no file, so no track, no ladder.
 *
 * @param referenceM R: measured length x safety factor x laps
 * @param laps laps of a closed course, or traversals of an open one, that the reading covers
 */
public record ShownRun(double referenceM, int laps, ShownDistance shown, Errors errors) {
  /**
   * @param laps above 0
   */
  public static ShownRun measure(ReferenceCourse course, int laps, Reading reading) {
    if (laps < 1) throw new IllegalArgumentException("laps: " + laps);
    double referenceM = course.referenceM() * laps;
    ShownDistance shown = ShownDistance.of(reading);
    return new ShownRun(
        referenceM,
        laps,
        shown,
        new Errors(
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.of(shown.asReadPercent(referenceM)),
            Optional.of(shown.errorPercent(referenceM))));
  }
}
