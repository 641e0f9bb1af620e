/**
 * Intervals, tests, uncertainty sums and charts of control on plain numbers. Knows nothing of what
 * the numbers stand for.
 */
@NullMarked
package milewarden.statistics;

import org.jspecify.annotations.NullMarked;
