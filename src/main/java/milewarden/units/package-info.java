/**
 * Lengths, ranges, angles and percentages with their units; kilometres or miles as the reader
 * likes. Knows nothing of devices, tracks or pages.
 */
@NullMarked
package milewarden.units;

import org.jspecify.annotations.NullMarked;
