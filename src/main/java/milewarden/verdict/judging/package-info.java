/**
 * The judge: all that is known of a model in, all that is to be said of it out; and what is watched
 * from run to run.
 */
@NullMarked
package milewarden.verdict.judging;

import org.jspecify.annotations.NullMarked;
