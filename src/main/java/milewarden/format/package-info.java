/**
 * Bytes to the domain and back: track files, course files, the field sheet. Reads streams, opens no
 * file, and turns bad input into a value with a reason and a place.
 */
@NullMarked
package milewarden.format;

import org.jspecify.annotations.NullMarked;
