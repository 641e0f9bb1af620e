/** Delivers the outbox by SMTP or into a folder. Asks the domain nothing. */
@NullMarked
package milewarden.alert;

import org.jspecify.annotations.NullMarked;
