/**
 * Recordings of the store in another format than they came in. The original stays what it is: what
 * is written here is derived, each time anew.
 */
@NullMarked
package milewarden.intake.convert;

import org.jspecify.annotations.NullMarked;
