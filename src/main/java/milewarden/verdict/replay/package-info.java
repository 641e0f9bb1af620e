/**
 * Judging what was judged before, under other rules or on other results: what would move, how often
 * nothing is taken for something, and whether what was published can be found again. It knows
 * neither the store nor the files.
 */
@NullMarked
package milewarden.verdict.replay;

import org.jspecify.annotations.NullMarked;
