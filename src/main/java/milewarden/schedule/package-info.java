/** Runs a piece of work at a time, on one node. The only package that imports the scheduler. */
@NullMarked
package milewarden.schedule;

import org.jspecify.annotations.NullMarked;
