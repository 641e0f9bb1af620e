/**
 * Readings that a tester types in at the mark, on a page: they become rows of a field sheet and
 * take its way in. It knows nothing of pages.
 */
@NullMarked
package milewarden.intake.typed;

import org.jspecify.annotations.NullMarked;
