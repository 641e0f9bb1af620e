package milewarden.accuracy;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.LengthRange;

/**
 * The distances of one pass in metres, never overwritten one by another.
 *
 * @param referenceM R: measured length x safety factor x laps, on the ground along the slope
 * @param horizontalReferenceM H: R with the slope taken out
 * @param trackM S: length of the recorded positions, brought to the ground
 * @param recordedM the device's own distance in its file
 * @param shownAsReadM what stood on the display
 * @param shownM the interval in which the shown distance lies by the display's rule
 */
public record Distances(
    double referenceM,
    double horizontalReferenceM,
    double trackM,
    OptionalDouble recordedM,
    OptionalDouble shownAsReadM,
    Optional<LengthRange> shownM) {}
