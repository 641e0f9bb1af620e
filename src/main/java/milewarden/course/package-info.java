/**
 * The reference: a line, the length measured along it on the ground, how well that is known, and
 * its versions. Knows no tracks.
 */
@NullMarked
package milewarden.course;

import org.jspecify.annotations.NullMarked;
