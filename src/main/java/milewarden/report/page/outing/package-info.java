/** Pages about one outing: the sheet to be filled in at the mark, and models held side by side. */
@NullMarked
package milewarden.report.page.outing;

import org.jspecify.annotations.NullMarked;
