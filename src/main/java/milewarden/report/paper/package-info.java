/**
 * The report on one release: its content once as records, and that content as one HTML file that
 * needs nothing else. Reads figures that were decided elsewhere; knows no store and no server.
 */
@NullMarked
package milewarden.report.paper;

import org.jspecify.annotations.NullMarked;
