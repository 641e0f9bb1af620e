/** The pages on which a reference course is measured, drawn and watched. Decides nothing. */
@NullMarked
package milewarden.report.page.course;

import org.jspecify.annotations.NullMarked;
