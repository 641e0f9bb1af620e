/**
 * The e-mail of a due item, in text and in HTML, with its picture; and the message that tries the
 * way.
 */
@NullMarked
package milewarden.report.mail;

import org.jspecify.annotations.NullMarked;
