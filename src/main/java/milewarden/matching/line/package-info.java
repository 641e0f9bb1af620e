/**
 * A course's line in the plane: its edges, the foot of the perpendicular from a place, and where on
 * it a walker at a place may have been. Knows no track.
 */
@NullMarked
package milewarden.matching.line;

import org.jspecify.annotations.NullMarked;
