/**
 * What the offsets of a pass from the line say about the errors of its positions: how large, how
 * lasting, on which grid, and how much longer they make the track. Knows series of plain numbers,
 * neither tracks nor courses.
 */
@NullMarked
package milewarden.accuracy.noise;

import org.jspecify.annotations.NullMarked;
