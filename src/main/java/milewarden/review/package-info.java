/**
 * Judges a model whose runs changed, raises and closes what is due, queues the mail, and publishes
 * verdicts; each in one transaction.
 */
@NullMarked
package milewarden.review;

import org.jspecify.annotations.NullMarked;
