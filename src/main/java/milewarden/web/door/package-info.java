/** Who comes in and what they may do: log-in, tokens, roles, and how often. */
@NullMarked
package milewarden.web.door;

import org.jspecify.annotations.NullMarked;
