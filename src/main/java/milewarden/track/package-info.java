/**
 * The fixes of a recording in primitive arrays, its segments and gaps, what the file claims about
 * its device, and what was dropped while reading and why. Knows no file format.
 */
@NullMarked
package milewarden.track;

import org.jspecify.annotations.NullMarked;
