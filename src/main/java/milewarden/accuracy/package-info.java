/**
 * The three distances, their signed errors, the ladder whose steps add up, offsets, noise and the
 * quality of the recording. Pure; one pass at a time.
 */
@NullMarked
package milewarden.accuracy;

import org.jspecify.annotations.NullMarked;
