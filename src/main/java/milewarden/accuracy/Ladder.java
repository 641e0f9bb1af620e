package milewarden.accuracy;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.LengthRange;

/**
 * From the reference to what the display says, in metres: the steps add up exactly.
 *
 * <p>ends + line + backtrack + weave + bend + chord = S - H; with slope S - R; with source recorded
 * - R; with indication shown - R (without a recorded distance indication is shown - S).
 */
public record Ladder(
    double slopeM,
    double endsM,
    double lineM,
    double backtrackM,
    double weaveM,
    double bendM,
    double chordM,
    OptionalDouble sourceM,
    Optional<LengthRange> indicationM) {}
