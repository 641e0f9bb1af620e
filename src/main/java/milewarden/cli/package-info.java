/** The commands, for people and as JSON. Starts no server. */
@NullMarked
package milewarden.cli;

import org.jspecify.annotations.NullMarked;
