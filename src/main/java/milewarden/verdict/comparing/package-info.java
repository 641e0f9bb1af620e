/**
 * Holds a release against an earlier one: like with like, the looks, the difference and what it
 * amounts to.
 */
@NullMarked
package milewarden.verdict.comparing;

import org.jspecify.annotations.NullMarked;
