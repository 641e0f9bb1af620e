/** The tables of what was measured: courses, models, releases, sessions, runs, results. */
@NullMarked
package milewarden.store.run;

import org.jspecify.annotations.NullMarked;
