/**
 * The positions of a recording against those of a reference track: a survey-grade receiver that was
 * carried along on the same clock. Knows nothing of courses, distances or the ladder.
 */
@NullMarked
package milewarden.accuracy.reference;

import org.jspecify.annotations.NullMarked;
