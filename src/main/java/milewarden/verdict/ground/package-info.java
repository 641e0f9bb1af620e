/** Watching a reference course by everything that was measured on it. Pure. */
@NullMarked
package milewarden.verdict.ground;

import org.jspecify.annotations.NullMarked;
