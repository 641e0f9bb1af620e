/**
 * One pass: what was shown, recorded and tracked, why it differs, and the charts along the course.
 */
@NullMarked
package milewarden.report.page.run;

import org.jspecify.annotations.NullMarked;
