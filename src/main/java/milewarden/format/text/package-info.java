/**
 * Readers of recordings in plain text: NMEA 0183 logs, tables (CSV) and GeoJSON. What a column or a
 * time may mean in two ways is asked for and not guessed.
 */
@NullMarked
package milewarden.format.text;

import org.jspecify.annotations.NullMarked;
