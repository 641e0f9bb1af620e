/**
 * Habits of a device that its recordings give away: each an estimate with its interval, and whether
 * the evidence settles it. Estimates from plain series and from what the device wrote; words are
 * the report's.
 */
@NullMarked
package milewarden.accuracy.fingerprint;

import org.jspecify.annotations.NullMarked;
