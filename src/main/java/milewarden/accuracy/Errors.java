package milewarden.accuracy;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.PercentRange;

/**
 * Signed errors of one pass in percent of the reference, positive when the device over-reads. A run
 * known by its shown distance alone has no track error.
 */
public record Errors(
    OptionalDouble trackPercent,
    OptionalDouble recordedPercent,
    OptionalDouble shownAsReadPercent,
    Optional<PercentRange> shownPercent) {}
