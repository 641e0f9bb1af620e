/**
 * Packed recordings: what a gzip or a zip holds, within bounds of size, number and names. Knows no
 * format of recordings.
 */
@NullMarked
package milewarden.format.pack;

import org.jspecify.annotations.NullMarked;
