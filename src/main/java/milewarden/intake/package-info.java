/**
 * Drop folder, upload and course folder: from bytes that stood still to measured runs. Does no
 * arithmetic and writes no SQL.
 */
@NullMarked
package milewarden.intake;

import org.jspecify.annotations.NullMarked;
