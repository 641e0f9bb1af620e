/**
 * What every reader of recordings shares: fixes as they are read, issues with their places, numbers
 * and times straight from a buffer, and the limits of what a file may cost. Knows no format.
 */
@NullMarked
package milewarden.format.fixes;

import org.jspecify.annotations.NullMarked;
