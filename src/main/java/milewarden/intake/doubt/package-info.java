/**
 * What a recording leaves open, which is asked of its tester and never guessed: when it was, and
 * what a table's columns are. Reads bytes again with the answers; asks no store.
 */
@NullMarked
package milewarden.intake.doubt;

import org.jspecify.annotations.NullMarked;
