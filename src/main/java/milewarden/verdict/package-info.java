/**
 * From measured passes to decisions: conditions, sessions, figures, conformity, comparisons, the
 * threshold, what is due, what was published. Pure and deterministic; words are the report's.
 */
@NullMarked
package milewarden.verdict;

import org.jspecify.annotations.NullMarked;
