/** The program: configuration, wiring and start. */
@NullMarked
package milewarden.app;

import org.jspecify.annotations.NullMarked;
