/** The words about one pass: the ladder, its noise, its fingerprints, its repairs. */
@NullMarked
package milewarden.report.pass;

import org.jspecify.annotations.NullMarked;
