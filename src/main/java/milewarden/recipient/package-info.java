/**
 * Who is told of what, and when: choices of models and severity, digests, quiet hours. Knows no
 * clock, no words and no way to send.
 */
@NullMarked
package milewarden.recipient;

import org.jspecify.annotations.NullMarked;
