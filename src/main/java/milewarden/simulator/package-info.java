/**
 * Seeded synthetic tracks and campaigns whose true error is known: the oracle of the tests and the
 * source of the demo.
 */
@NullMarked
package milewarden.simulator;

import org.jspecify.annotations.NullMarked;
