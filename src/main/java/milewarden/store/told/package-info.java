/** The tables of who is told what: recipients, queued and sent messages, digests. */
@NullMarked
package milewarden.store.told;

import org.jspecify.annotations.NullMarked;
