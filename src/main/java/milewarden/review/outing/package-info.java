/** The next outing: which unit, side, direction and condition is due, and its field sheet. */
@NullMarked
package milewarden.review.outing;

import org.jspecify.annotations.NullMarked;
