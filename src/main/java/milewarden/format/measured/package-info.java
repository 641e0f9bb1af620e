/**
 * The field sheet of a course's measurement in its three forms: a CSV file, the fields of a form,
 * the property of a course file. All become lines, and the lines a sheet. Computes nothing.
 */
@NullMarked
package milewarden.format.measured;

import org.jspecify.annotations.NullMarked;
