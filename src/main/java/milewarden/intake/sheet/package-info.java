/**
 * What field sheets and files of tags say of the tracks beside them, as the store keeps it.
 * Measures nothing.
 */
@NullMarked
package milewarden.intake.sheet;

import org.jspecify.annotations.NullMarked;
