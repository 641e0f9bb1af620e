/**
 * Everything of the store as tables for other programs, with a dictionary that says what each
 * column means. Knows how a table is written, not how a number came about.
 */
@NullMarked
package milewarden.cli.export;

import org.jspecify.annotations.NullMarked;
