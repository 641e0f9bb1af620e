/** Invented campaigns: units, releases, outings and what their displays show. */
@NullMarked
package milewarden.simulator.campaign;

import org.jspecify.annotations.NullMarked;
