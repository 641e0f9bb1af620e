/** What needs the tester today: the row of each model and the due list, in sentences and strips. */
@NullMarked
package milewarden.report.page.overview;

import org.jspecify.annotations.NullMarked;
