/** The pages of a reference course: its versions, its line and how it was measured. */
@NullMarked
package milewarden.web.page.course;

import org.jspecify.annotations.NullMarked;
