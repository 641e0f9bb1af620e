/**
 * Which course a track was run on, which passes it holds, and the chainage and offset of every fix.
 * Judges nothing.
 */
@NullMarked
package milewarden.matching;

import org.jspecify.annotations.NullMarked;
