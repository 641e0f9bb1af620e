/**
 * The binary recording format FIT, decoded from its published layout: messages defined in the file
 * itself, little or big endian, with a checksum. Knows the layout and the few message numbers that
 * matter for distance.
 */
@NullMarked
package milewarden.format.fit;

import org.jspecify.annotations.NullMarked;
