/**
 * The figures of one release from its passes: sessions, mean error and its uncertainty, the next
 * run, conformity and threshold. Knows one release at a time.
 */
@NullMarked
package milewarden.verdict.figures;

import org.jspecify.annotations.NullMarked;
